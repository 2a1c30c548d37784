"""Moving a work order on: which buttons its ticket has, and what each asks for."""

from dataclasses import dataclass
from typing import Any

from django import forms
from django.http import Http404, HttpRequest, HttpResponse
from django.urls import path, reverse
from django.utils import timezone

from shop.actions import moves as actions
from shop.domain.holds import HOLD_LABELS, HoldReason
from shop.domain.lifecycle import (
    EVENT_ACTS,
    EVENT_DONE,
    EVENT_LABELS,
    NEEDS_REASON,
    STATE_LABELS,
    Event,
    State,
)
from shop.domain.roles import Act, Viewer
from shop.domain.work_orders import Particulars
from shop.models.columns import choices
from shop.seams import Link
from shop.selectors.work_orders import MoveOption, WorkOrderPage, work_order_page
from shop.web.answers import form_page, go_on, take
from shop.web.forms import (
    DayField,
    FigureField,
    ShopForm,
    count_in,
    posted,
    prose_field,
    text_field,
)
from shop.web.viewer import acting_user, demand_act

# What brings the work nearer to its end; the rest stands aside on the ticket.
FORWARD = frozenset(
    {
        Event.START_ESTIMATE,
        Event.START_WORK,
        Event.SEND_ESTIMATE,
        Event.APPROVE,
        Event.RESUME,
        Event.FINISH_WORK,
        Event.SIGN_OFF,
        Event.HAND_OVER,
    }
)
_WHY: dict[Event, str] = {
    Event.WAIT: "What is it waiting for?",
    Event.REVISE_ESTIMATE: "Why does the estimate change?",
    Event.FAIL_CHECK: "What was not right?",
    Event.BACK_TO_BENCH: "Why does it go back?",
    Event.CALL_OFF: "Why is it called off?",
}


@dataclass(frozen=True, slots=True)
class Step:
    """A move as the ticket shows it."""

    event: str
    label: str
    asks: bool
    is_main: bool


@dataclass(frozen=True, slots=True)
class Steps:
    """All moves of a ticket, sorted by how it shows them."""

    forward: tuple[Step, ...]
    aside: tuple[Step, ...]
    barred: str


def steps_of(page: WorkOrderPage) -> Steps:
    """Return the moves of a ticket; the one to make next stands first."""
    allowed = [move for move in page.moves if move.allowed]
    first = "" if bench_link(page) else _next_event(page)
    return Steps(
        forward=tuple(
            _step(move, page, first)
            for move in sorted(allowed, key=lambda move: move.event != first)
            if Event(move.event) in FORWARD
        ),
        aside=tuple(
            _step(move, page, first)
            for move in allowed
            if Event(move.event) not in FORWARD
        ),
        barred=", ".join(move.label.lower() for move in page.moves if not move.allowed),
    )


def bench_link(page: WorkOrderPage) -> Link | None:
    """Return where the work itself is done, while the bike is on the bench."""
    if page.order.state != State.ON_THE_BENCH:
        return None
    for panel in page.panels:
        for row in panel.rows:
            if row.href and row.mark.lower() == "open":
                return Link(f"Go to the {panel.title.lower()}", row.href)
    return next((panel.links[0] for panel in page.panels if panel.links), None)


def _next_event(page: WorkOrderPage) -> str:
    if page.order.state == State.BOOKED_IN:
        agreed = page.approved_amount is not None
        return Event.START_WORK if agreed else Event.START_ESTIMATE
    return next((move.event for move in page.moves if Event(move.event) in FORWARD), "")


def _step(move: MoveOption, page: WorkOrderPage, first: str) -> Step:
    return Step(
        event=move.event,
        label=move.label,
        asks=_asks(Event(move.event), page),
        is_main=move.event == first,
    )


def _asks(event: Event, page: WorkOrderPage) -> bool:
    if event is Event.START_WORK:
        return page.approved_amount is None
    return event in NEEDS_REASON or event in {Event.SEND_ESTIMATE, Event.APPROVE}


class MoveForm(ShopForm):
    """What a move asks for; every move has its own few of these fields."""

    seen_state = forms.ChoiceField(
        choices=[(state.value, label) for state, label in STATE_LABELS.items()],
        widget=forms.HiddenInput,
    )
    hold_kind = forms.ChoiceField(
        label="Kind of hold", choices=choices(HOLD_LABELS), widget=forms.RadioSelect
    )
    reason = text_field("Reason", longest=200)
    expected_on = DayField(label="Expected on", required=False)
    estimate_amount = FigureField(label="Estimate", help_text="Tax included.")
    estimate_note = prose_field(
        "Note on the estimate",
        longest=5000,
        required=False,
        help_text="What it covers and what it does not.",
    )
    approved_amount = FigureField(
        label="Agreed to spend", help_text="The most that may be spent, tax included."
    )
    approved_by_name = text_field("Agreed by", longest=120)
    approved_how = text_field(
        "How",
        longest=120,
        required=False,
        help_text="At the counter, by phone, by mail.",
    )

    def __init__(
        self, *args: Any, event: Event, wanted: set[str], currency: str, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        for name in set(self.fields) - wanted - {"seen_state"}:
            del self.fields[name]
        if "reason" in self.fields:
            self.fields["reason"].label = _WHY.get(event, "Why?")
        count_in(self, currency)

    @property
    def asks_nothing(self) -> bool:
        """Say whether nothing is left to enter."""
        return set(self.fields) == {"seen_state"}

    def particulars(self) -> Particulars:
        """Return what was entered."""
        given = {k: v for k, v in self.cleaned_data.items() if k != "seen_state"}
        return Particulars(**given)


@take
def move(request: HttpRequest, work_order_id: int, event: str) -> HttpResponse:
    """Move a work order on, asking for what the move needs."""
    if event not in set(Event):
        raise Http404
    chosen = Event(event)
    viewer = demand_act(request, EVENT_ACTS[chosen])
    found = work_order_page(work_order_id=work_order_id, viewer=viewer)
    form = MoveForm(
        posted(request),
        initial=_initial(found, chosen),
        event=chosen,
        wanted=_wanted(found, chosen, viewer),
        currency=found.totals.currency,
    )
    if form.is_valid():
        done = form.carry_out(
            actions.move_work_order,
            work_order_id=work_order_id,
            event=chosen,
            particulars=form.particulars(),
            seen_state=State(form.cleaned_data["seen_state"]),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"{EVENT_DONE[chosen]}: {found.order.label}."
            return go_on(request, said, "shop:work_order", work_order_id)
    return form_page(
        request,
        "shop/work_orders/move_page.html",
        form,
        page=found,
        heading=EVENT_LABELS[chosen],
        needs_desk=chosen is Event.START_WORK
        and not form.fields.keys() - {"seen_state"},
        is_ending=chosen is Event.CALL_OFF,
        submit_text=EVENT_LABELS[chosen],
        cancel_href=reverse("shop:work_order", args=[work_order_id]),
    )


def _wanted(page: WorkOrderPage, event: Event, viewer: Viewer) -> set[str]:
    wanted: set[str] = set()
    if event in NEEDS_REASON:
        wanted.add("reason")
    if event is Event.WAIT:
        wanted |= {"hold_kind", "expected_on"}
    if event is Event.SEND_ESTIMATE:
        wanted |= {"estimate_amount", "estimate_note"}
    agrees_now = event is Event.START_WORK and page.approved_amount is None
    if event is Event.APPROVE or (agrees_now and viewer.may(Act.RECORD_APPROVAL)):
        wanted |= {"approved_amount", "approved_by_name", "approved_how"}
    return wanted


def _initial(page: WorkOrderPage, event: Event) -> dict[str, object]:
    totals = page.totals.gross or None
    return {
        "seen_state": page.order.state,
        "hold_kind": HoldReason.PARTS.value,
        "estimate_amount": page.estimate_amount or totals,
        "estimate_note": page.estimate_note,
        "approved_amount": page.estimate_amount if event is Event.APPROVE else None,
        "approved_by_name": page.customer.name if page.customer else "",
    }


urlpatterns = [
    path(
        "work-orders/<int:work_order_id>/move/<str:event>/",
        move,
        name="work_order_move",
    )
]
