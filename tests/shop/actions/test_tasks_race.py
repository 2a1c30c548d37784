"""Two tabs on one task, hold or point: one wins, the others are told.

Run on a SQLite file and on PostgreSQL, in a process of its own: inside a test's
transaction nothing can race.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from tests.shop.actions.race import COLLEAGUES, ROUNDS
from tests.shop.processes import own_database, workshop

LATE = (COLLEAGUES - 1) * ROUNDS
RACE = """
import django
django.setup()
from tests.shop.actions.race_tasks import main
main()
"""


def race(folder: Path, **extra: str) -> Any:
    return json.loads(workshop(folder, **extra).python("-c", RACE))


def assert_one_wins_and_the_others_are_told(found: Any) -> None:
    assert found["starting"] == {
        "outcomes": {"done": ROUNDS, "task-moved-already": LATE},
        "told": ROUNDS,
    }
    assert found["releasing"]["outcomes"] == {"done": ROUNDS, "hold-released": LATE}
    assert found["ticking"]["outcomes"] == {"done": ROUNDS, "answered-already": LATE}
    assert found["circling"] == {
        "outcomes": {"done": COLLEAGUES - 1, "tasks-in-a-circle": 1},
        "circle": [],
    }


def test_on_a_sqlite_file(tmp_path: Path) -> None:
    assert_one_wins_and_the_others_are_told(race(tmp_path))


@pytest.mark.postgres
def test_on_postgresql(tmp_path: Path, postgres_url: str) -> None:
    with own_database(postgres_url, "race_tasks") as url:
        found = race(tmp_path, LOOM_DATABASE_URL=url)
    assert_one_wins_and_the_others_are_told(found)
