from datetime import timedelta

import pytest
from django.utils import timezone

from shop.domain.roles import Role
from tests.builders import LabourLineFactory, TaskFactory, UserFactory, WorkOrderFactory
from tests.shop.web.pages import as_role, queries_of, signed_in, url, words

pytestmark = pytest.mark.django_db


def test_today_shows_own_entries_and_what_to_take_up_next() -> None:
    mo = UserFactory.create()
    today = timezone.localdate()
    LabourLineFactory.create(technician=mo, done_on=today, minutes=95)
    LabourLineFactory.create(
        technician=mo, done_on=today, minutes=18, billing="goodwill"
    )
    LabourLineFactory.create(done_on=today, description="Somebody else's work")
    task = TaskFactory.create(work_order=WorkOrderFactory.create(state="on_the_bench"))
    page = words(signed_in(mo).get(url("my_day")))
    assert "1 h 53 min booked" in page
    assert "18 min goodwill" in page
    assert task.operation in page
    assert "Somebody else's work" not in page


def test_another_day_is_looked_back_at_and_offers_no_clock() -> None:
    mo = UserFactory.create()
    before = timezone.localdate() - timedelta(days=1)
    LabourLineFactory.create(technician=mo, done_on=before, description="Hub rebuilt")
    page = words(signed_in(mo).get(url("my_day"), {"day": before.isoformat()}))
    assert "Hub rebuilt" in page
    assert "On the bench" not in page


@pytest.mark.parametrize(
    "day", ["yesterday", "2026-02-30", "0001-01-01", "9999-12-31", ""]
)
def test_a_day_that_is_none_shows_today(day: str) -> None:
    answer = signed_in(UserFactory.create()).get(url("my_day"), {"day": day})
    assert answer.status_code == 200
    assert "Nothing is booked on this day" in words(answer)


def test_who_works_at_no_bench_has_no_day() -> None:
    for role in (Role.FRONT_DESK, Role.STOREKEEPER):
        assert as_role(role).get(url("my_day")).status_code == 403


def test_a_long_day_costs_no_more_queries() -> None:
    mo = UserFactory.create()
    client, today = signed_in(mo), timezone.localdate()
    LabourLineFactory.create(technician=mo, done_on=today)
    few = queries_of(client, url("my_day"))
    LabourLineFactory.create_batch(6, technician=mo, done_on=today)
    assert queries_of(client, url("my_day")) == few
