"""Clocks over the API: on, over, off, corrected; the day; estimate against actual."""

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.clocks import change_over, clock_off, clock_on, correct_clock
from shop.api.describe import MOVING, READING, answers, answers_many
from shop.api.shapes import shape
from shop.api.views import ShopView, created, one
from shop.domain.clocks import ClockEntry
from shop.domain.labour import LABOUR_KIND_LABELS
from shop.domain.pricing import BILLING_LABELS
from shop.models.columns import choices
from shop.selectors.clocks import ClockRow, clock, running_clocks
from shop.selectors.days import MyDay, my_day
from shop.selectors.efforts import WorkOrderEffort, work_order_effort

TAG = ["clocks"]


class ClockBody(serializers.Serializer[Any]):
    """What is said when clocking on."""

    kind = serializers.ChoiceField(choices=choices(LABOUR_KIND_LABELS))
    billing = serializers.ChoiceField(
        choices=choices(BILLING_LABELS),
        required=False,
        help_text="Who bears it; the customer unless said.",
    )
    note = serializers.CharField(
        max_length=400,
        required=False,
        allow_blank=True,
        help_text="The task's own words unless said.",
    )


class ClockCorrectionBody(serializers.Serializer[Any]):
    """When the work really ended, and why the clock did not know."""

    stopped_at = serializers.DateTimeField()
    reason = serializers.CharField(max_length=200)


class DayQuery(serializers.Serializer[Any]):
    """Which day is wanted."""

    day = serializers.DateField(required=False, help_text="Today unless said.")


_EXAMPLE = OpenApiExample(
    "A repair", {"kind": "repair", "billing": "billable"}, request_only=True
)


class ClockOnView(ShopView):
    @extend_schema(
        operation_id="clocks_on",
        summary="Clock on to a task; refused while another clock of yours runs",
        tags=TAG,
        request=ClockBody,
        examples=[_EXAMPLE],
        responses=answers(ClockRow, status=201, of=MOVING),
    )
    def post(self, request: Request, task_id: int) -> Response:
        made = clock_on(
            task_id=task_id,
            entry=ClockEntry(**self.body(ClockBody)),
            acting_user=self.person,
            at=self.now,
        )
        return created(clock(clock_id=made.pk, viewer=self.viewer, at=self.now))


class ChangeOverView(ShopView):
    @extend_schema(
        operation_id="clocks_change_over",
        summary="Stop your running clock and clock on to this task, in one step",
        tags=TAG,
        request=ClockBody,
        examples=[_EXAMPLE],
        responses=answers(ClockRow, status=201, of=MOVING),
    )
    def post(self, request: Request, task_id: int) -> Response:
        made = change_over(
            task_id=task_id,
            entry=ClockEntry(**self.body(ClockBody)),
            acting_user=self.person,
            at=self.now,
        )
        return created(clock(clock_id=made.pk, viewer=self.viewer, at=self.now))


class ClocksView(ShopView):
    @extend_schema(
        operation_id="clocks_list",
        summary="Who is clocked on, the oldest clock first",
        tags=TAG,
        responses=answers_many(ClockRow),
    )
    def get(self, request: Request) -> Response:
        rows = running_clocks(viewer=self.viewer, at=self.now)
        return Response(shape(ClockRow)(rows, many=True).data)


class ClockView(ShopView):
    @extend_schema(
        operation_id="clocks_read",
        summary="A clock",
        tags=TAG,
        responses=answers(ClockRow, of=READING),
    )
    def get(self, request: Request, clock_id: int) -> Response:
        return one(clock(clock_id=clock_id, viewer=self.viewer, at=self.now))


class ClockOffView(ShopView):
    @extend_schema(
        operation_id="clocks_off",
        summary="Clock off and book the time; refused where the clock was forgotten",
        tags=TAG,
        request=None,
        responses=answers(ClockRow, of=MOVING),
    )
    def post(self, request: Request, clock_id: int) -> Response:
        clock_off(clock_id=clock_id, acting_user=self.person, at=self.now)
        return one(clock(clock_id=clock_id, viewer=self.viewer, at=self.now))


class ClockCorrectView(ShopView):
    @extend_schema(
        operation_id="clocks_correct",
        summary="Stop a running clock at the time the work really ended",
        tags=TAG,
        request=ClockCorrectionBody,
        examples=[
            OpenApiExample(
                "Forgotten overnight",
                {
                    "stopped_at": "2026-03-02T17:30:00Z",
                    "reason": "went home without clocking off",
                },
                request_only=True,
            )
        ],
        responses=answers(ClockRow, of=MOVING),
    )
    def post(self, request: Request, clock_id: int) -> Response:
        correct_clock(
            clock_id=clock_id,
            acting_user=self.person,
            at=self.now,
            **self.body(ClockCorrectionBody),
        )
        return one(clock(clock_id=clock_id, viewer=self.viewer, at=self.now))


class MyDayView(ShopView):
    @extend_schema(
        operation_id="my_day",
        summary="Your own day: what is booked, what runs, what to take up next",
        tags=TAG,
        parameters=[DayQuery],
        responses=answers(MyDay, of=(400, 401, 403)),
    )
    def get(self, request: Request) -> Response:
        today = timezone.localdate()
        day = self.query(DayQuery).get("day", today)
        return one(my_day(viewer=self.viewer, day=day, today=today, at=self.now))


class WorkOrderEffortView(ShopView):
    @extend_schema(
        operation_id="work_orders_effort",
        summary="Estimate against actual hours, task by task",
        tags=TAG,
        responses=answers(WorkOrderEffort, of=READING),
    )
    def get(self, request: Request, work_order_id: int) -> Response:
        return one(
            work_order_effort(
                work_order_id=work_order_id, viewer=self.viewer, at=self.now
            )
        )
