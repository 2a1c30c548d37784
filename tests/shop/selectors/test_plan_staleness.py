"""A plan is out of date when a day or something of its facts has gone on."""

from datetime import timedelta

import pytest

from shop.models import HistoryEntry
from shop.selectors.plan_staleness import is_out_of_date
from tests.builders import MORNING
from tests.shop.plan_room import MONDAY, rewire, worked_out

pytestmark = pytest.mark.django_db


def happened(kind: str) -> None:
    HistoryEntry.objects.create(
        at=MORNING,
        actor_name="x",
        verb=f"{kind}.changed",
        subject_kind=kind,
        subject_id=1,
        summary="Something changed",
    )


@pytest.mark.parametrize(
    ("kind", "is_so"),
    [
        ("task", True),
        ("absence", True),
        ("working_hours", True),
        ("hold", True),
        ("outside_work", True),
        ("labour_line", True),
        ("work_order", True),
        ("customer", False),
        ("paper", False),
        ("plan", False),
    ],
)
def test_only_what_the_plan_is_made_of_puts_it_out_of_date(
    kind: str, is_so: bool
) -> None:
    rewire()
    plan = worked_out()
    assert not is_out_of_date(plan, at=MONDAY)
    happened(kind)
    assert is_out_of_date(plan, at=MONDAY) is is_so


def test_a_day_that_has_gone_by_puts_it_out_of_date() -> None:
    rewire()
    plan = worked_out()
    assert is_out_of_date(plan, at=MONDAY + timedelta(days=1))
