"""Work orders are found, and one is shown with everything on it."""

from collections.abc import Iterator
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from pytest_django import DjangoAssertNumQueries

from shop.domain.lifecycle import State
from shop.domain.refusals import NotAllowed, NotFound
from shop.domain.roles import Viewer
from shop.seams import Panel, PanelRow, registry
from shop.selectors.windows import Window
from shop.selectors.work_orders import (
    WorkOrderFilter,
    work_order_list,
    work_order_page,
)
from tests.builders import (
    BikeFactory,
    CustomerFactory,
    FrontDeskFactory,
    LabourLineFactory,
    PartLineFactory,
    StorekeeperFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db
PANEL_QUERIES = 4


@pytest.fixture
def panel() -> Iterator[None]:
    """Let another app add a panel for technicians."""

    def cases(*, work_order_id: int, viewer: Viewer) -> Panel | None:
        if viewer.role != "technician":
            return None
        row = PanelRow(label="Lights fade", text="3 findings", mark="open")
        return Panel(key="test-cases", title="Cases", rows=(row,))

    registry.register_panel("test-cases", cases)
    yield
    registry.unregister("test-cases")


@pytest.mark.parametrize(
    ("search", "numbers"),
    [
        ("", [1003, 1002, 1001]),
        ("wo-1002", [1002]),
        ("1003", [1003]),
        ("spark", [1001]),
        ("fenn spark", [1001]),
        ("H35/77", [1002]),
        ("99999999999999999999", []),
    ],
)
def test_a_work_order_is_found_by_number_complaint_bike_or_customer(
    search: str, numbers: list[int]
) -> None:
    ada = CustomerFactory(name="Ada Fenn")
    WorkOrderFactory(number=1001, complaint="No spark.", bike=BikeFactory(owner=ada))
    WorkOrderFactory(number=1002, bike=BikeFactory(frame_number="H35/77"))
    WorkOrderFactory(number=1003)
    found = work_order_list(
        viewer=FrontDeskFactory().as_viewer(), wanted=WorkOrderFilter(search=search)
    )
    assert [row.number for row in found.rows] == numbers


def test_work_orders_are_narrowed_by_what_is_known() -> None:
    mo = UserFactory()
    wanted = WorkOrderFactory(state="waiting", technician=mo)
    WorkOrderFactory(state="closed", technician=mo)
    WorkOrderFactory(state="waiting")
    viewer = FrontDeskFactory().as_viewer()
    for narrowed in (
        WorkOrderFilter(state=State.WAITING, technician_id=mo.pk),
        WorkOrderFilter(open_only=True, technician_id=mo.pk),
        WorkOrderFilter(bike_id=wanted.bike_id),
        WorkOrderFilter(customer_id=wanted.customer_id),
    ):
        found = work_order_list(viewer=viewer, wanted=narrowed)
        assert [row.id for row in found.rows] == [wanted.pk], narrowed


def test_a_long_list_costs_no_more_queries_than_a_short_one(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    viewer = FrontDeskFactory().as_viewer()
    for size in (1, 12):
        WorkOrderFactory.create_batch(size)
        with django_assert_num_queries(2):
            work_order_list(viewer=viewer, window=Window(limit=10))


def test_the_storekeeper_sees_work_orders_without_customers() -> None:
    order = WorkOrderFactory()
    viewer = StorekeeperFactory().as_viewer()
    (row,) = work_order_list(viewer=viewer).rows
    assert (row.customer_id, row.customer_name) == (None, "")
    page = work_order_page(work_order_id=order.pk, viewer=viewer)
    assert page.customer is None
    assert page.bike.owner_name == ""
    by_name = WorkOrderFilter(search=order.customer.name)
    assert work_order_list(viewer=viewer, wanted=by_name).total == 0
    with pytest.raises(NotAllowed):
        work_order_list(
            viewer=viewer, wanted=WorkOrderFilter(customer_id=order.customer_id)
        )


def test_a_work_order_with_many_lines_costs_no_more_queries() -> None:
    order, viewer = WorkOrderFactory(), FrontDeskFactory().as_viewer()
    asked = []
    for size in (1, 6):
        LabourLineFactory.create_batch(size, work_order=order)
        PartLineFactory.create_batch(size, work_order=order)
        with CaptureQueriesContext(connection) as queries:
            work_order_page(work_order_id=order.pk, viewer=viewer)
        asked.append(len(queries))
    # Work order, settings, labour, parts, outside work, tags, tasks, holds,
    # advisories, final check, history twice, and what the panels of other apps ask.
    assert asked[0] == asked[1]
    assert asked[0] <= 12 + PANEL_QUERIES


def test_the_page_shows_what_is_spent_beyond_what_was_agreed() -> None:
    order = WorkOrderFactory(
        state="on_the_bench",
        approved_amount=Decimal("50.00"),
        approved_by_name="Ada Fenn",
    )
    LabourLineFactory(work_order=order, minutes=60, hourly_rate=Decimal("54.00"))
    page = work_order_page(work_order_id=order.pk, viewer=UserFactory().as_viewer())
    assert page.totals.gross == Decimal("64.80")
    assert page.over_approved == Decimal("14.80")
    assert page.is_open


def test_the_page_offers_the_moves_and_says_which_the_viewer_may_make() -> None:
    order = WorkOrderFactory(state="ready")
    technician = work_order_page(
        work_order_id=order.pk, viewer=UserFactory().as_viewer()
    )
    desk = work_order_page(
        work_order_id=order.pk, viewer=FrontDeskFactory().as_viewer()
    )
    assert {move.event: move.allowed for move in technician.moves} == {
        "back_to_bench": True,
        "hand_over": False,
    }
    assert {move.event: move.allowed for move in desk.moves} == {
        "back_to_bench": False,
        "hand_over": True,
    }
    assert [move.needs_reason for move in desk.moves] == [True, False]


def test_another_app_adds_its_panel_for_whom_it_likes(panel: None) -> None:
    order = WorkOrderFactory()
    technician = UserFactory().as_viewer()
    desk = FrontDeskFactory().as_viewer()
    shown = work_order_page(work_order_id=order.pk, viewer=technician).panels
    hidden = work_order_page(work_order_id=order.pk, viewer=desk).panels
    assert "Cases" in [panel.title for panel in shown]
    assert "test-cases" not in [panel.key for panel in hidden]


@pytest.mark.parametrize("work_order_id", [0, 404, 10**30])
def test_an_unknown_work_order_is_not_found(work_order_id: int) -> None:
    with pytest.raises(NotFound):
        work_order_page(work_order_id=work_order_id, viewer=UserFactory().as_viewer())
