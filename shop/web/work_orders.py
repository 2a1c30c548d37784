"""Pages about work orders: the list, the job ticket, booking in, correcting."""

from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path, reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from shop.actions import work_orders as actions
from shop.domain.clocks import HANDS_ON_STATES
from shop.domain.lifecycle import State
from shop.domain.roles import Act, Viewer
from shop.domain.work_orders import Intake
from shop.selectors.bikes import bike_list, bike_page
from shop.selectors.board import StateCount, state_counts
from shop.selectors.efforts import work_order_effort
from shop.selectors.people import technicians
from shop.selectors.work_orders import (
    WorkOrderFilter,
    work_order_list,
    work_order_page,
)
from shop.web.answers import form_page, go_on, take
from shop.web.forms import (
    DayField,
    FigureField,
    PickField,
    ShopForm,
    count_in,
    posted,
    prose_field,
    text_field,
)
from shop.web.lists import pager, search_text, window_of
from shop.web.moves import bench_link, steps_of
from shop.web.shop_facts import facts_of
from shop.web.today import NEXT
from shop.web.viewer import acting_user, demand_act, viewer_of

OPEN, MINE, ALL = "open", "mine", "all"


class IntakeForm(ShopForm):
    """What is noted when a bike comes in."""

    complaint = prose_field(
        "Complaint",
        longest=5000,
        help_text="In the customer's words: what works, what is weak, what is dead.",
    )
    intake_notes = prose_field(
        "As it came in",
        longest=5000,
        required=False,
        rows=3,
        help_text="Condition, what came with the bike, odometer, fuel, keys.",
    )
    promised_on = DayField(label="Promised for", required=False)
    technician_id = PickField(label="Technician", required=False, empty="nobody yet")
    approved_amount = FigureField(
        label="Agreed to spend",
        required=False,
        help_text="Tax included. With it, work may start without an estimate.",
    )
    approved_by_name = text_field("Agreed by", longest=120, required=False)
    approved_how = text_field(
        "How",
        longest=120,
        required=False,
        help_text="At the counter, by phone, by mail.",
    )

    def __init__(
        self,
        *args: Any,
        people: list[tuple[int, str]],
        currency: str,
        may_agree: bool,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        count_in(self, currency)
        self.fields["technician_id"] = PickField(
            label="Technician", required=False, empty="nobody yet", rows=people
        )
        if not may_agree:
            for name in ("approved_amount", "approved_by_name", "approved_how"):
                del self.fields[name]


class WorkOrderForm(ShopForm):
    """What may be corrected or filled in while a work order is open."""

    work_done = prose_field(
        "What was done",
        longest=10_000,
        required=False,
        rows=6,
        help_text="In words that the customer reads on the report.",
    )
    complaint = prose_field("Complaint", longest=5000)
    intake_notes = prose_field("As it came in", longest=5000, required=False, rows=3)
    promised_on = DayField(label="Promised for", required=False)
    technician_id = PickField(label="Technician", required=False, empty="nobody yet")

    def __init__(
        self, *args: Any, people: list[tuple[int, str]], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.fields["technician_id"] = PickField(
            label="Technician", required=False, empty="nobody yet", rows=people
        )


@dataclass(frozen=True, slots=True)
class Tab:
    """A state to filter by."""

    value: str
    label: str
    count: int | None


@require_safe
def listing(request: HttpRequest) -> HttpResponse:
    """List the work orders in one state, or all that are open."""
    viewer = viewer_of(request)
    search = search_text(request)
    chosen = request.GET.get("state", OPEN)
    state = State(chosen) if chosen in set(State) else None
    if state is None and chosen not in {ALL, MINE}:
        chosen = OPEN
    wanted = WorkOrderFilter(
        search=search,
        state=state,
        open_only=chosen in {OPEN, MINE},
        technician_id=viewer.user_id if chosen == MINE else None,
    )
    found = work_order_list(viewer=viewer, wanted=wanted, window=window_of(request))
    counts = state_counts(viewer=viewer)
    return render(
        request,
        "shop/work_orders/list.html",
        {
            "rows": found.rows,
            "pager": pager(found, q=search, state=chosen),
            "search": search,
            "chosen": chosen,
            "tabs": _tabs(counts, viewer),
            "is_filtered": any(cell.count for cell in counts),
            "sees_customers": viewer.may(Act.SEE_CUSTOMERS),
            "may_book_in": viewer.may(Act.BOOK_IN),
        },
    )


@require_safe
def page(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Show the job ticket with everything on it."""
    viewer = viewer_of(request)
    found = work_order_page(work_order_id=work_order_id, viewer=viewer)
    step = NEXT.get(State(found.order.state))
    return render(
        request,
        "shop/work_orders/page.html",
        {
            "page": found,
            "steps": steps_of(found),
            "bench_link": bench_link(found),
            "waits_for": f"waits {step.waits_for}" if step else "",
            "may_edit": viewer.may(Act.EDIT_WORK_ORDER),
            "may_plan_tasks": viewer.may(Act.PLAN_TASKS),
            "may_keep_holds": viewer.may(Act.KEEP_HOLDS),
            "may_check": viewer.may(Act.DO_FINAL_CHECK),
            "tasks_open": sum(task.is_open for task in found.tasks),
            "holds_open": sum(not hold.is_released for hold in found.holds),
            "advisories_open": sum(row.outcome == "open" for row in found.advisories),
            "tasks_settled": sum(not task.is_open for task in found.tasks),
            "tasks_hours_left": sum(
                task.expected_hours for task in found.tasks if task.is_open
            ),
            "checks_passed": sum(item.is_passed for item in found.check_items),
            "may_book_labour": viewer.may(Act.BOOK_LABOUR)
            or viewer.may(Act.BOOK_LABOUR_FOR_OTHERS),
            "may_void_any_labour": viewer.may(Act.BOOK_LABOUR_FOR_OTHERS),
            "may_clock": viewer.may(Act.BOOK_LABOUR),
            "is_on_bench": State(found.order.state) in HANDS_ON_STATES,
            "effort": work_order_effort(
                work_order_id=work_order_id, viewer=viewer, at=timezone.now()
            ),
            "may_book_parts": viewer.may(Act.BOOK_PARTS),
            "may_keep_tags": viewer.may(Act.KEEP_TAGS),
            "may_arrange": viewer.may(Act.ARRANGE_OUTSIDE_WORK),
            "today": timezone.localdate(),
            "may_request_paper": viewer.may(Act.REQUEST_PAPER),
        },
    )


@require_safe
def pick_bike(request: HttpRequest) -> HttpResponse:
    """Ask which bike has come in."""
    viewer = demand_act(request, Act.BOOK_IN)
    search = search_text(request)
    found = bike_list(viewer=viewer, search=search, window=window_of(request))
    return render(
        request,
        "shop/work_orders/pick_bike.html",
        {
            "rows": found.rows,
            "pager": pager(found, q=search),
            "search": search,
            "may_keep_bikes": viewer.may(Act.KEEP_BIKES),
            "may_keep_customers": viewer.may(Act.KEEP_CUSTOMERS),
        },
    )


@take
def book_in(request: HttpRequest, bike_id: int) -> HttpResponse:
    """Book a bike in with the customer's complaint."""
    viewer = demand_act(request, Act.BOOK_IN)
    bike = bike_page(bike_id=bike_id, viewer=viewer).bike
    form = IntakeForm(
        posted(request),
        people=[(person.id, person.name) for person in technicians(viewer=viewer)],
        currency=facts_of(request).currency,
        may_agree=viewer.may(Act.RECORD_APPROVAL),
    )
    if form.is_valid():
        noted = dict(form.cleaned_data)
        made = form.carry_out(
            actions.book_in,
            bike_id=bike_id,
            complaint=noted.pop("complaint"),
            intake=Intake(**noted),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if made is not None:
            said = f"{bike.name} is booked in as {made.label}."
            return go_on(request, said, "shop:work_order", made.pk)
    return form_page(
        request,
        "shop/work_orders/book_in.html",
        form,
        bike=bike,
        submit_text="Book in",
        cancel_href=reverse("shop:bike", args=[bike_id]),
    )


@take
def edit(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Correct the words of a work order, or write down what was done."""
    viewer = demand_act(request, Act.EDIT_WORK_ORDER)
    found = work_order_page(work_order_id=work_order_id, viewer=viewer)
    form = WorkOrderForm.editing(
        request,
        {
            "complaint": found.order.complaint,
            "intake_notes": found.intake_notes,
            "work_done": found.work_done,
            "promised_on": found.order.promised_on,
            "technician_id": found.order.technician_id,
        },
        people=[(person.id, person.name) for person in technicians(viewer=viewer)],
    )
    if form.is_valid():
        done = form.carry_out(
            actions.edit_work_order,
            work_order_id=work_order_id,
            changes=form.changes(),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"{done.label} saved."
            return go_on(request, said, "shop:work_order", work_order_id)
    return form_page(
        request,
        "shop/work_orders/form.html",
        form,
        order=found.order,
        submit_text="Save",
        cancel_href=reverse("shop:work_order", args=[work_order_id]),
    )


def _tabs(counts: tuple[StateCount, ...], viewer: Viewer) -> list[Tab]:
    first = [Tab(OPEN, "All open", None)]
    if viewer.may(Act.BOOK_LABOUR):
        first.append(Tab(MINE, "Mine", None))
    states = [Tab(cell.state, cell.label, cell.count) for cell in counts]
    return [*first, *states, Tab(ALL, "All", None)]


urlpatterns = [
    path("work-orders/", listing, name="work_orders"),
    path("work-orders/book-in/", pick_bike, name="work_order_new"),
    path("bikes/<int:bike_id>/book-in/", book_in, name="work_order_book_in"),
    path("work-orders/<int:work_order_id>/", page, name="work_order"),
    path("work-orders/<int:work_order_id>/edit/", edit, name="work_order_edit"),
]
