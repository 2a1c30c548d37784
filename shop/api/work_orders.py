"""Work orders over the API: booked in, corrected, moved, read."""

from typing import Any

from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.moves import move_work_order
from shop.actions.work_orders import book_in, edit_work_order
from shop.api.describe import MOVING, READING, answers, answers_page, answers_page_of
from shop.api.fields import optional_amount, optional_text
from shop.api.views import ShopView, WindowQuery, created, one, page
from shop.domain.holds import HOLD_LABELS
from shop.domain.lifecycle import EVENT_LABELS, STATE_LABELS, Event, State
from shop.domain.work_orders import Intake, Particulars
from shop.models.columns import choices
from shop.selectors.history import HistoryRow, work_order_history
from shop.selectors.work_order_rows import WorkOrderRow
from shop.selectors.work_orders import (
    WorkOrderFilter,
    WorkOrderPage,
    work_order_list,
    work_order_page,
)

TAG = ["work orders"]


class WorkOrderChanges(serializers.Serializer[Any]):
    """What may be corrected while a work order is open."""

    complaint = serializers.CharField(
        max_length=5000, help_text="In the customer's own words."
    )
    intake_notes = optional_text(5000, "Condition, what came with the bike, odometer.")
    work_done = optional_text(10000, "What was done, in words the customer reads.")
    promised_on = serializers.DateField(required=False, allow_null=True)
    technician_id = serializers.IntegerField(
        required=False, allow_null=True, min_value=1
    )


class WorkOrderBody(serializers.Serializer[Any]):
    """A bike booked in."""

    bike_id = serializers.IntegerField(min_value=1)
    complaint = serializers.CharField(
        max_length=5000, help_text="In the customer's own words."
    )
    intake_notes = optional_text(5000, "Condition, what came with the bike, odometer.")
    promised_on = serializers.DateField(required=False, allow_null=True)
    technician_id = serializers.IntegerField(
        required=False, allow_null=True, min_value=1
    )
    approved_amount = optional_amount("Agreed at the counter, tax included.")
    approved_by_name = optional_text(120)
    approved_how = optional_text(120)


class EventBody(serializers.Serializer[Any]):
    """What happens to the work order, and what goes with it."""

    event = serializers.ChoiceField(choices=choices(EVENT_LABELS))
    seen_state = serializers.ChoiceField(
        choices=choices(STATE_LABELS),
        required=False,
        help_text="The state last seen; where it has changed, nothing is done (409).",
    )
    reason = optional_text(200)
    estimate_amount = optional_amount("Tax included.")
    estimate_note = optional_text(5000)
    approved_amount = optional_amount(
        "Tax included; the estimate's figure unless said."
    )
    approved_by_name = optional_text(120)
    approved_how = optional_text(120)
    hold_kind = serializers.ChoiceField(
        choices=choices(HOLD_LABELS),
        required=False,
        help_text="What sort of thing a bike put on hold waits for; parts unless said.",
    )
    expected_on = serializers.DateField(
        required=False, allow_null=True, help_text="When the hold should be over."
    )


class WorkOrderQuery(WindowQuery):
    """Which work orders are wanted."""

    q = optional_text(200, "Words that all must be found; WO-1001 finds by number.")
    state = serializers.ChoiceField(choices=choices(STATE_LABELS), required=False)
    open = serializers.BooleanField(
        required=False, default=False, help_text="Only those that have not ended."
    )
    bike = serializers.IntegerField(required=False, min_value=1)
    customer = serializers.IntegerField(required=False, min_value=1)
    technician = serializers.IntegerField(required=False, min_value=1)


class WorkOrdersView(ShopView):
    @extend_schema(
        operation_id="work_orders_list",
        summary="Work orders, the newest first",
        tags=TAG,
        parameters=[WorkOrderQuery],
        responses=answers_page(WorkOrderRow),
    )
    def get(self, request: Request) -> Response:
        asked = self.query(WorkOrderQuery)
        wanted = WorkOrderFilter(
            search=asked.get("q", ""),
            state=State(asked["state"]) if "state" in asked else None,
            open_only=asked["open"],
            bike_id=asked.get("bike"),
            customer_id=asked.get("customer"),
            technician_id=asked.get("technician"),
        )
        found = work_order_list(viewer=self.viewer, wanted=wanted, window=self.window())
        return page(request, found, WorkOrderRow)

    @extend_schema(
        operation_id="work_orders_book_in",
        summary="Book a bike in",
        tags=TAG,
        request=WorkOrderBody,
        examples=[
            OpenApiExample(
                "A bike booked in",
                {"bike_id": 1, "complaint": "The lights go out when it is hot."},
                request_only=True,
            )
        ],
        responses=answers(WorkOrderPage, status=201, of=MOVING),
    )
    def post(self, request: Request) -> Response:
        body = dict(self.body(WorkOrderBody))
        order = book_in(
            bike_id=body.pop("bike_id"),
            complaint=body.pop("complaint"),
            intake=Intake(**body),
            acting_user=self.person,
            at=self.now,
        )
        return created(work_order_page(work_order_id=order.pk, viewer=self.viewer))


class WorkOrderView(ShopView):
    @extend_schema(
        operation_id="work_orders_read",
        summary="A work order with everything on it",
        tags=TAG,
        responses=answers(WorkOrderPage, of=READING),
    )
    def get(self, request: Request, work_order_id: int) -> Response:
        return one(work_order_page(work_order_id=work_order_id, viewer=self.viewer))

    @extend_schema(
        operation_id="work_orders_edit",
        summary="Correct the words of an open work order",
        tags=TAG,
        request=WorkOrderChanges,
        examples=[
            OpenApiExample(
                "What was done",
                {"work_done": "New earth strap from battery to frame."},
                request_only=True,
            )
        ],
        responses=answers(WorkOrderPage, of=MOVING),
    )
    def patch(self, request: Request, work_order_id: int) -> Response:
        edit_work_order(
            work_order_id=work_order_id,
            changes=self.changes(WorkOrderChanges),
            acting_user=self.person,
            at=self.now,
        )
        return one(work_order_page(work_order_id=work_order_id, viewer=self.viewer))


class WorkOrderEventsView(ShopView):
    @extend_schema(
        operation_id="work_orders_move",
        summary="Move a work order along its life",
        tags=TAG,
        request=EventBody,
        examples=[
            OpenApiExample(
                "The customer agreed",
                {
                    "event": "approve",
                    "seen_state": "awaiting_approval",
                    "approved_by_name": "Ada Fenn",
                    "approved_how": "by telephone",
                },
                request_only=True,
            )
        ],
        responses=answers(WorkOrderPage, of=MOVING),
    )
    def post(self, request: Request, work_order_id: int) -> Response:
        body = dict(self.body(EventBody))
        seen = body.pop("seen_state", None)
        move_work_order(
            work_order_id=work_order_id,
            event=Event(body.pop("event")),
            particulars=Particulars(**body),
            seen_state=State(seen) if seen else None,
            acting_user=self.person,
            at=self.now,
        )
        return one(work_order_page(work_order_id=work_order_id, viewer=self.viewer))


class WorkOrderHistoryView(ShopView):
    @extend_schema(
        operation_id="work_orders_history",
        summary="What happened on a work order, the newest first",
        tags=TAG,
        parameters=[WindowQuery],
        responses=answers_page_of(HistoryRow),
    )
    def get(self, request: Request, work_order_id: int) -> Response:
        found = work_order_history(
            work_order_id=work_order_id, viewer=self.viewer, window=self.window()
        )
        return page(request, found, HistoryRow)
