"""Holds are read with since when, by whom, and who may release them."""

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.actions.holds import place_hold, release_hold
from shop.domain.holds import HoldDetails
from shop.domain.refusals import NotFound
from shop.selectors.holds import hold, hold_rows
from tests.builders import MORNING, FrontDeskFactory, UserFactory, WorkOrderFactory

pytestmark = pytest.mark.django_db


def test_standing_holds_come_first_in_one_query(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    order, desk = WorkOrderFactory(state="on_the_bench"), FrontDeskFactory()
    made = [
        place_hold(
            work_order_id=order.pk,
            details=HoldDetails(kind=kind, detail=kind),
            acting_user=desk,
            at=MORNING,
        )
        for kind in ("parts", "approval")
    ]
    release_hold(hold_id=made[0].pk, note="came", acting_user=desk, at=MORNING)
    with django_assert_num_queries(1):
        rows = hold_rows(work_order_id=order.pk, viewer=desk.as_viewer())
    assert [row.kind_label for row in rows] == ["Approval", "Parts"]
    assert rows[0].placed_by_name == desk.name
    assert (rows[1].released_by_name, rows[1].release_note) == (desk.name, "came")
    assert [row.may_release for row in rows] == [True, False]
    mo = UserFactory().as_viewer()
    assert not hold(hold_id=made[1].pk, viewer=mo).may_release


def test_a_hold_that_is_not_there_is_not_found() -> None:
    with pytest.raises(NotFound):
        hold(hold_id=0, viewer=UserFactory().as_viewer())
