"""One technician on fifty phones: one clock runs, and its time is booked once.

Run on a SQLite file and on PostgreSQL, in a process of its own, as the other races.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from tests.shop.actions.clock_race import PHONES
from tests.shop.processes import own_database, workshop

RACE = """
import django
django.setup()
from tests.shop.actions.clock_race import main
main()
"""


def race(folder: Path, **extra: str) -> Any:
    return json.loads(workshop(folder, **extra).python("-c", RACE))


def assert_one_clock_runs_and_is_booked_once(found: Any) -> None:
    assert found["clocking_on"] == {
        "outcomes": {"done": 1, "clock-running": PHONES - 1},
        "running": 1,
        "all": 1,
        "tasks_started": 1,
        "told": 1,
    }
    assert found["clocking_off"] == {
        "outcomes": {"done": 1, "clock-stopped": PHONES - 1},
        "minutes": 60,
    }
    assert found["changing_over"] == {
        "outcomes": {"done": 12},
        "running": 2,
        "minutes": 120,
    }


def test_on_a_sqlite_file(tmp_path: Path) -> None:
    assert_one_clock_runs_and_is_booked_once(race(tmp_path))


@pytest.mark.postgres
def test_on_postgresql(tmp_path: Path, postgres_url: str) -> None:
    with own_database(postgres_url, "clock_race") as url:
        found = race(tmp_path, LOOM_DATABASE_URL=url)
    assert_one_clock_runs_and_is_booked_once(found)
