"""Clocks are read with how long they run, and whether they were forgotten."""

from datetime import timedelta

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.actions.clocks import clock_off
from shop.domain.refusals import NotFound
from shop.selectors.clocks import (
    clock,
    clock_blockers,
    running_clock,
    running_clocks,
)
from shop.selectors.shop_settings import shop_facts
from tests.builders import (
    MORNING,
    ClockFactory,
    FrontDeskFactory,
    LabourLineFactory,
    ShopSettingsFactory,
    UserFactory,
)

pytestmark = pytest.mark.django_db
LATER = MORNING + timedelta(minutes=95)


def test_a_running_clock_says_on_what_and_for_how_long() -> None:
    found = ClockFactory()
    row = running_clock(viewer=found.technician.as_viewer(), at=LATER)
    assert row is not None
    assert (row.id, row.operation) == (found.pk, found.task.operation)
    assert (row.minutes, row.time_text) == (95, "1 h 35 min")
    assert (row.is_running, row.is_forgotten, row.likely_stop) == (True, False, None)


def test_the_clock_of_a_colleague_is_not_ones_own() -> None:
    ClockFactory()
    assert running_clock(viewer=UserFactory().as_viewer(), at=LATER) is None


def test_a_forgotten_clock_comes_with_the_stop_to_offer() -> None:
    ShopSettingsFactory(time_zone="UTC", clock_limit_hours=10)
    ClockFactory()
    (row,) = running_clocks(
        viewer=FrontDeskFactory().as_viewer(), at=MORNING + timedelta(days=2)
    )
    assert row.is_forgotten
    assert row.likely_stop == MORNING + timedelta(hours=10)


def test_a_stopped_clock_tells_what_was_booked_and_not_struck_out() -> None:
    found = ClockFactory()
    mo = found.technician
    clock_off(clock_id=found.pk, acting_user=mo, at=LATER)
    LabourLineFactory(
        clock=found,
        minutes=500,
        voided_at=LATER,
        voided_by=mo,
        void_reason="typed twice",
    )
    row = clock(clock_id=found.pk, viewer=mo.as_viewer(), at=LATER)
    assert (row.booked_minutes, row.is_running, row.minutes) == (95, False, 95)


def test_the_oldest_running_clock_stands_first_and_stopped_ones_do_not() -> None:
    young = ClockFactory(started_at=LATER)
    old = ClockFactory()
    ClockFactory(stopped_at=LATER)
    rows = running_clocks(viewer=FrontDeskFactory().as_viewer(), at=LATER)
    assert [row.id for row in rows] == [old.pk, young.pk]


@pytest.mark.parametrize("number", [0, 404, 10**30])
def test_an_unknown_clock_is_not_found(number: int) -> None:
    with pytest.raises(NotFound):
        clock(clock_id=number, viewer=UserFactory().as_viewer(), at=LATER)


def test_a_running_clock_stands_against_signing_off() -> None:
    found = ClockFactory(technician__first_name="Mo")
    (said,) = clock_blockers(work_order_id=found.task.work_order_id)
    assert said.startswith("Mo is clocked on to")
    clock_off(clock_id=found.pk, acting_user=found.technician, at=LATER)
    assert clock_blockers(work_order_id=found.task.work_order_id) == ()


def test_the_bar_costs_one_query_and_the_list_two(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    shop = shop_facts()
    clocks = ClockFactory.create_batch(3)
    with django_assert_num_queries(1):
        viewer = clocks[0].technician.as_viewer()
        assert running_clock(viewer=viewer, at=LATER, shop=shop)
    desk = FrontDeskFactory().as_viewer()
    with django_assert_num_queries(2):
        assert len(running_clocks(viewer=desk, at=LATER)) == 3
