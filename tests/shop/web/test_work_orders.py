from collections.abc import Iterator

import pytest
from django.test import Client

from shop import seams
from shop.domain.lifecycle import State
from shop.domain.roles import Role, Viewer
from shop.models import WorkOrder
from shop.seams import Link, Panel, PanelRow
from tests.builders import (
    BikeFactory,
    LabourLineFactory,
    PartLineFactory,
    ShopSettingsFactory,
    UserFactory,
    WorkOrderFactory,
)
from tests.shop.web.pages import (
    as_role,
    error_at,
    html,
    no_query_while_rendering,
    queries_of,
    signed_in,
    url,
    words,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def desk() -> Client:
    return as_role(Role.FRONT_DESK)


@pytest.fixture
def panel() -> Iterator[None]:
    def made(*, work_order_id: int, viewer: Viewer) -> Panel | None:
        row = PanelRow(
            label=f"Case of {work_order_id}",
            text="3 findings",
            href="/bench/1/",
            mark="Open",
        )
        link = Link("Open a case", "/bench/open/")
        return Panel(key="t", title="Bench", rows=(row,), links=(link,))

    seams.registry.register_panel("zz-test", made)
    yield
    seams.registry.unregister("zz-test")


def test_the_list_shows_what_is_open_unless_asked(desk: Client) -> None:
    WorkOrderFactory.create(number=2001, state=State.ON_THE_BENCH)
    WorkOrderFactory.create(number=2002, state=State.CLOSED)
    first = words(desk.get(url("work_orders")))
    assert "WO-2001" in first
    assert "WO-2002" not in first
    closed = words(desk.get(url("work_orders"), {"state": "closed"}))
    assert "WO-2002" in closed
    assert "WO-2001" not in closed
    every = words(desk.get(url("work_orders"), {"state": "all"}))
    assert "WO-2001" in every
    assert "WO-2002" in every


def test_a_technician_can_look_at_own_work_alone() -> None:
    me = UserFactory.create()
    WorkOrderFactory.create(number=2001, technician=me)
    WorkOrderFactory.create(number=2002)
    page = words(signed_in(me).get(url("work_orders"), {"state": "mine"}))
    assert "WO-2001" in page
    assert "WO-2002" not in page


def test_nonsense_in_the_address_shows_the_open_ones(desk: Client) -> None:
    WorkOrderFactory.create(number=2001)
    for query in (
        {"state": "lost"},
        {"page": "-1"},
        {"page": "9" * 30},
        {"page": "٣"},
        {"q": "\x00"},
    ):
        answer = desk.get(url("work_orders"), query)
        assert answer.status_code == 200, query
        assert "Work orders" in words(answer), query


def test_a_page_past_the_end_leads_back(desk: Client) -> None:
    WorkOrderFactory.create_batch(26)
    page = html(desk.get(url("work_orders"), {"page": "9"}))
    assert "page=2" in page


def test_booking_in_opens_a_work_order(desk: Client) -> None:
    bike = BikeFactory.create()
    answer = desk.post(
        url("work_order_book_in", bike.pk),
        {"complaint": "No lights at all.", "promised_on": "2026-12-24"},
        follow=True,
    )
    order = WorkOrder.objects.get()
    assert order.complaint == "No lights at all."
    assert f"is booked in as {order.label}." in words(answer)
    assert "24 Dec 2026" in words(answer)


def test_a_bike_without_a_complaint_is_not_booked_in(desk: Client) -> None:
    bike = BikeFactory.create()
    answer = desk.post(
        url("work_order_book_in", bike.pk),
        {"complaint": " ", "intake_notes": "Tank empty", "approved_amount": "abc"},
    )
    assert answer.status_code == 422
    assert error_at(answer, "complaint") == "Fill this in; it cannot stay empty."
    assert error_at(answer, "approved_amount") == "Write a figure, for example 12.50."
    assert "Tank empty" in html(answer)
    assert not WorkOrder.objects.exists()


def test_an_amount_agreed_needs_the_name_of_who_agreed(desk: Client) -> None:
    bike = BikeFactory.create()
    answer = desk.post(
        url("work_order_book_in", bike.pk),
        {"complaint": "No spark.", "approved_amount": "150,50"},
    )
    assert error_at(answer, "approved_by_name").startswith("Enter the name")
    assert not WorkOrder.objects.exists()


def test_a_technician_cannot_agree_for_the_customer() -> None:
    page = as_role(Role.TECHNICIAN).get(
        url("work_order_book_in", BikeFactory.create().pk)
    )
    assert "Agreed at the counter" not in words(page)


def test_the_ticket_shows_bike_lines_and_sums(desk: Client) -> None:
    ShopSettingsFactory.create()
    order = WorkOrderFactory.create()
    LabourLineFactory.create(work_order=order, minutes=50)  # 45.00
    PartLineFactory.create(work_order=order)  # 2 x 0.85
    page = words(desk.get(url("work_order", order.pk)))
    assert order.complaint in page
    assert order.bike.frame_number in page
    assert "12 V, positive earth" in page
    assert "€45.00" in page
    assert "€1.70" in page
    assert "€56.04" in page  # 46.70 net and 9.34 tax at 20 %


def test_a_void_line_stays_in_sight_and_does_not_count(desk: Client) -> None:
    order = WorkOrderFactory.create()
    LabourLineFactory.create(
        work_order=order,
        voided_at=order.booked_in_at,
        voided_by=UserFactory.create(first_name="Ines"),
        void_reason="Booked on the wrong bike",
    )
    page = words(desk.get(url("work_order", order.pk)))
    assert "Void: Booked on the wrong bike (Ines)" in page
    assert "Total €0.00" in page


def test_what_was_spent_above_the_approval_is_said(desk: Client) -> None:
    order = WorkOrderFactory.create(approved_amount=10, state=State.ON_THE_BENCH)
    LabourLineFactory.create(work_order=order)  # 45.00 and 20 %
    page = words(desk.get(url("work_order", order.pk)))
    assert "€44.00 above what the customer approved." in page


def test_another_app_s_panel_stands_on_the_ticket(panel: None) -> None:
    order = WorkOrderFactory.create(state=State.ON_THE_BENCH)
    page = html(as_role(Role.TECHNICIAN).get(url("work_order", order.pk)))
    assert f"Case of {order.pk}" in page
    # On the bench, the open case is where the work goes on.
    assert '<a class="btn btn-main" href="/bench/1/">Go to the bench</a>' in page


def test_an_ended_work_order_takes_no_more_lines(desk: Client) -> None:
    order = WorkOrderFactory.create(state=State.CLOSED)
    page = words(desk.get(url("work_order", order.pk)))
    assert "This work order has ended." in page
    assert "Book hours" not in page
    assert "Add a part" not in page


def test_the_storekeeper_sees_no_customer() -> None:
    order = WorkOrderFactory.create()
    store = as_role(Role.STOREKEEPER)
    for page in (url("work_orders"), url("work_order", order.pk), url("today")):
        assert order.customer.name not in words(store.get(page))


def test_what_was_done_is_written_down(desk: Client) -> None:
    order = WorkOrderFactory.create()
    given = {"complaint": order.complaint, "intake_notes": "", "promised_on": ""}
    seen = {f"initial-{name}": value for name, value in given.items()}
    desk.post(
        url("work_order_edit", order.pk),
        {**given, **seen, "initial-work_done": "", "work_done": "New earth strap."},
    )
    order.refresh_from_db()
    assert order.work_done == "New earth strap."


def test_an_ended_work_order_refuses_new_words(desk: Client) -> None:
    order = WorkOrderFactory.create(state=State.CLOSED)
    answer = desk.post(
        url("work_order_edit", order.pk),
        {"complaint": order.complaint, "work_done": "More."},
    )
    assert answer.status_code == 422
    assert "nothing more can be written on it" in words(answer)


def test_a_technician_may_void_only_their_own_hours() -> None:
    me = UserFactory.create()
    order = WorkOrderFactory.create()
    mine = LabourLineFactory.create(work_order=order, technician=me)
    other = LabourLineFactory.create(work_order=order)
    page = html(signed_in(me).get(url("work_order", order.pk)))
    assert url("labour_void", mine.pk) in page
    assert url("labour_void", other.pk) not in page


def test_long_lists_take_no_more_queries_than_short_ones(desk: Client) -> None:
    ShopSettingsFactory.create()
    WorkOrderFactory.create_batch(2)
    few = queries_of(desk, url("work_orders")), queries_of(desk, url("today"))
    WorkOrderFactory.create_batch(30, state=State.READY)
    assert (queries_of(desk, url("work_orders")), queries_of(desk, url("today"))) == few


def test_a_full_ticket_takes_no_more_queries_than_an_empty_one(desk: Client) -> None:
    ShopSettingsFactory.create()
    order = WorkOrderFactory.create()
    few = queries_of(desk, url("work_order", order.pk))
    LabourLineFactory.create_batch(8, work_order=order)
    PartLineFactory.create_batch(8, work_order=order)
    assert queries_of(desk, url("work_order", order.pk)) == few


def test_the_templates_ask_the_database_nothing(
    desk: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    order = WorkOrderFactory.create()
    LabourLineFactory.create(work_order=order)
    PartLineFactory.create(work_order=order)
    with no_query_while_rendering(monkeypatch):
        desk.get(url("today"))
        desk.get(url("work_orders"))
        desk.get(url("work_order", order.pk))
        desk.get(url("work_order_new"))
        desk.get(url("work_order_book_in", order.bike_id))
        desk.get(url("work_order_edit", order.pk))
