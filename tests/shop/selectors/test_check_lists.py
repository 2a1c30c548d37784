"""The round that counts is read with who ticked what."""

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.actions.moves import move_work_order
from shop.domain.lifecycle import Event
from shop.domain.refusals import NotFound
from shop.models import CheckPoint
from shop.selectors.check_lists import check_item, check_item_rows, check_points
from tests.builders import MORNING, UserFactory, WorkOrderFactory
from tests.shop.final_check import pass_final_check

pytestmark = pytest.mark.django_db


def test_points_are_read_in_their_order_in_one_query(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    CheckPoint.objects.all().delete()
    for place, text in ((2, "Horn"), (1, "Brakes")):
        CheckPoint.objects.create(position=place, text=text)
    order, mo = WorkOrderFactory(state="on_the_bench"), UserFactory()
    assert check_item_rows(work_order_id=order.pk, viewer=mo.as_viewer()) == ()
    move_work_order(
        work_order_id=order.pk, event=Event.FINISH_WORK, acting_user=mo, at=MORNING
    )
    pass_final_check(order)
    with django_assert_num_queries(1):
        rows = check_item_rows(work_order_id=order.pk, viewer=mo.as_viewer())
    assert [row.text for row in rows] == ["Brakes", "Horn"]
    assert all(row.is_passed and row.answered_by_name for row in rows)
    assert [point.text for point in check_points(viewer=mo.as_viewer())] == [
        "Brakes",
        "Horn",
    ]


def test_a_point_that_is_not_there_is_not_found() -> None:
    with pytest.raises(NotFound):
        check_item(item_id=0, viewer=UserFactory().as_viewer())
