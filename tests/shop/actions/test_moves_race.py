"""Eight colleagues at once: no state, number, line or owner is lost or doubled.

Run on a SQLite file and on PostgreSQL, in a process of its own: inside a test's
transaction nothing can race.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from tests.shop.actions.race import COLLEAGUES, ROUNDS
from tests.shop.processes import own_database, workshop

ALL = COLLEAGUES * ROUNDS


RACE = """
import django
django.setup()
from tests.shop.actions.race import main
main()
"""


def race(folder: Path, **extra: str) -> Any:
    return json.loads(workshop(folder, **extra).python("-c", RACE))


def assert_nothing_is_lost_or_doubled(found: Any) -> None:
    moving = found["moving"]
    assert moving["told"] == ROUNDS
    assert moving["outcomes"]["done"] == ROUNDS
    refused = sum(
        moving["outcomes"].get(code, 0) for code in ("illegal-move", "moved-already")
    )
    assert refused == ALL - ROUNDS, moving

    assert found["booking"]["outcomes"] == {"done": COLLEAGUES}
    assert found["booking"]["numbers"] == list(range(1001, 1001 + ALL))

    assert found["voiding"] == {
        "outcomes": {"done": ROUNDS, "line-void": ALL - ROUNDS},
        "void": ROUNDS,
    }

    assert found["closing"]["late"] == 0
    assert set(found["closing"]["outcomes"]) <= {"done", "work-order-ended"}

    assert found["stepping_down"]["owners"] == 1
    assert found["stepping_down"]["outcomes"] == {
        "done": COLLEAGUES - 1,
        "last-owner": 1,
    }


def test_on_a_sqlite_file(tmp_path: Path) -> None:
    assert_nothing_is_lost_or_doubled(race(tmp_path))


@pytest.mark.postgres
def test_on_postgresql(tmp_path: Path, postgres_url: str) -> None:
    with own_database(postgres_url, "race") as url:
        found = race(tmp_path, LOOM_DATABASE_URL=url)
    assert_nothing_is_lost_or_doubled(found)
