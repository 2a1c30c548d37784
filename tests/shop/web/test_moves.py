import pytest
from django.http import HttpResponseBase
from django.test import Client

from shop import seams
from shop.domain.lifecycle import Event, State
from shop.domain.roles import Role, Viewer
from shop.models import HistoryEntry, WorkOrder
from shop.seams import Link, Panel
from tests.builders import ShopSettingsFactory, WorkOrderFactory
from tests.shop.web.pages import as_role, error_at, html, url, words

pytestmark = pytest.mark.django_db


@pytest.fixture
def desk() -> Client:
    return as_role(Role.FRONT_DESK)


@pytest.fixture
def bench() -> Client:
    return as_role(Role.TECHNICIAN)


def move(
    client: Client, order: WorkOrder, event: Event, follow: bool = True, **given: str
) -> HttpResponseBase:
    data = {"seen_state": order.state, **given}
    return client.post(
        url("work_order_move", order.pk, event.value), data, follow=follow
    )


def state_of(order: WorkOrder) -> str:
    order.refresh_from_db()
    return order.state


def test_the_ticket_offers_only_the_legal_next_moves(bench: Client) -> None:
    order = WorkOrderFactory.create(state=State.ON_THE_BENCH)
    page = html(bench.get(url("work_order", order.pk)))
    offered = {event for event in Event if f"/move/{event.value}/" in page}
    assert offered == {Event.WAIT, Event.REVISE_ESTIMATE, Event.FINISH_WORK}
    assert "For others to do: call off." in words(
        bench.get(url("work_order", order.pk))
    )


def test_an_estimate_goes_out_with_its_figure(bench: Client) -> None:
    ShopSettingsFactory.create()
    order = WorkOrderFactory.create(state=State.ESTIMATING)
    answer = move(bench, order, Event.SEND_ESTIMATE, estimate_amount="1 250,50")
    assert state_of(order) == State.AWAITING_APPROVAL
    assert "Estimate sent: WO-" in words(answer)
    assert "€1,250.50" in words(answer)


def test_an_estimate_without_a_figure_stays_where_it_is(bench: Client) -> None:
    order = WorkOrderFactory.create(state=State.ESTIMATING)
    answer = move(bench, order, Event.SEND_ESTIMATE, estimate_note="Two weeks")
    assert answer.status_code == 422
    assert error_at(answer, "estimate_amount")
    assert "Two weeks" in html(answer)
    assert state_of(order) == State.ESTIMATING


def test_the_approval_offers_the_estimate_and_the_customer_s_name(
    desk: Client,
) -> None:
    order = WorkOrderFactory.create(
        state=State.AWAITING_APPROVAL, estimate_amount="480.00"
    )
    page = html(desk.get(url("work_order_move", order.pk, "approve")))
    assert 'value="480.00' in page
    assert f'value="{order.customer.name}"' in page
    move(
        desk,
        order,
        Event.APPROVE,
        approved_amount="480",
        approved_by_name=order.customer.name,
        approved_how="by phone",
    )
    assert state_of(order) == State.ON_THE_BENCH


def test_a_move_that_needs_a_reason_asks_for_it(bench: Client) -> None:
    order = WorkOrderFactory.create(state=State.ON_THE_BENCH)
    answer = move(bench, order, Event.WAIT, reason="")
    assert answer.status_code == 422
    assert "What is it waiting for?" in words(answer)
    assert error_at(answer, "reason")
    assert state_of(order) == State.ON_THE_BENCH
    move(
        bench,
        order,
        Event.WAIT,
        reason="regulator from the rewinder",
        hold_kind="outside_work",
    )
    assert state_of(order) == State.WAITING
    assert order.waiting_for == "regulator from the rewinder"


def test_a_move_that_needs_nothing_is_one_tap(bench: Client) -> None:
    order = WorkOrderFactory.create(state=State.ON_THE_BENCH)
    page = html(bench.get(url("work_order", order.pk)))
    target = url("work_order_move", order.pk, "finish_work")
    assert f'<form method="post" action="{target}">' in page
    move(bench, order, Event.FINISH_WORK)
    assert state_of(order) == State.FINAL_CHECK


def test_what_somebody_else_moved_meanwhile_is_not_moved_again(bench: Client) -> None:
    order = WorkOrderFactory.create(state=State.ON_THE_BENCH)
    WorkOrder.objects.filter(pk=order.pk).update(state=State.WAITING.value)
    answer = move(bench, order, Event.FINISH_WORK)
    assert answer.status_code == 422
    assert "Somebody else moved" in words(answer)
    assert state_of(order) == State.WAITING


def test_an_open_case_stands_against_the_final_check(
    bench: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    order = WorkOrderFactory.create(state=State.FINAL_CHECK)

    def blockers(*, work_order_id: int) -> list[str]:
        return ["A fault hunt is still open. Close it."]

    seams.registry.register_blockers("zz-test", blockers)
    try:
        answer = move(bench, order, Event.SIGN_OFF)
    finally:
        seams.registry.unregister("zz-test")
    assert answer.status_code == 422
    assert "A fault hunt is still open. Close it." in words(answer)
    assert state_of(order) == State.FINAL_CHECK
    assert not HistoryEntry.objects.exists()


def test_work_without_an_agreement_is_sent_to_the_desk(bench: Client) -> None:
    order = WorkOrderFactory.create()
    page = words(bench.get(url("work_order_move", order.pk, "start_work")))
    assert "The customer has not agreed to spend anything yet." in page
    answer = move(bench, order, Event.START_WORK)
    assert answer.status_code == 422
    assert state_of(order) == State.BOOKED_IN


def test_a_move_of_another_role_is_refused(bench: Client) -> None:
    order = WorkOrderFactory.create(state=State.READY)
    answer = move(bench, order, Event.HAND_OVER)
    assert answer.status_code == 403
    assert "Ask somebody who may" in words(answer)
    assert state_of(order) == State.READY


def test_calling_off_says_what_it_means_and_wants_a_reason(desk: Client) -> None:
    order = WorkOrderFactory.create()
    page = words(desk.get(url("work_order_move", order.pk, "call_off")))
    assert "has ended" in page
    move(desk, order, Event.CALL_OFF, reason="Sold the bike")
    assert state_of(order) == State.CALLED_OFF


def test_a_move_that_does_not_exist_is_not_found(desk: Client) -> None:
    order = WorkOrderFactory.create()
    assert desk.get(url("work_order_move", order.pk, "burn")).status_code == 404


def test_a_bike_on_the_bench_leads_to_its_open_case_or_to_a_new_one(
    bench: Client,
) -> None:
    def panel(*, work_order_id: int, viewer: Viewer) -> Panel:
        return Panel(key="zz", title="Bench", links=(Link("Open a case", "/open/"),))

    seams.registry.register_panel("aa-test", panel)
    try:
        on_it = WorkOrderFactory.create(state=State.ON_THE_BENCH)
        waiting = WorkOrderFactory.create(state=State.WAITING)
        first = bench.get(url("work_order", on_it.pk)).context["bench_link"]
        none = bench.get(url("work_order", waiting.pk)).context["bench_link"]
    finally:
        seams.registry.unregister("aa-test")
    assert first == Link("Open a case", "/open/")
    assert none is None
