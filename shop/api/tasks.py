"""Tasks and their templates over the API."""

from typing import Any

from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.task_templates import apply_task_template
from shop.actions.tasks import edit_task, move_task, place_task, plan_task
from shop.api.describe import MOVING, READING, answers, answers_many
from shop.api.shapes import shape
from shop.api.views import ShopView, created, one
from shop.domain.labour import LABOUR_KIND_LABELS, LabourKind
from shop.domain.tasks import (
    TASK_EVENT_LABELS,
    TASK_STATE_LABELS,
    TaskDetails,
    TaskEvent,
    TaskState,
)
from shop.models.columns import choices
from shop.selectors.task_templates import (
    TaskTemplatePage,
    TaskTemplateRow,
    task_template_list,
    task_template_page,
)
from shop.selectors.tasks import TaskRow, task, tasks_of

TAG = ["tasks"]


def _hours(help_text: str) -> Any:
    return serializers.DecimalField(
        max_digits=7, decimal_places=2, min_value=0, help_text=help_text
    )


class TaskBody(serializers.Serializer[Any]):
    """A task: what is done, three guesses of the hours, who, and what comes first."""

    operation = serializers.CharField(max_length=200)
    optimistic_hours = _hours("Hands-on hours if all goes well.")
    likely_hours = _hours("Most likely.")
    pessimistic_hours = _hours("If it fights back.")
    labour_kind = serializers.ChoiceField(
        choices=choices(LABOUR_KIND_LABELS), default=LabourKind.REPAIR.value
    )
    technician_id = serializers.IntegerField(
        required=False, allow_null=True, min_value=1
    )
    notes = serializers.CharField(max_length=4000, required=False, allow_blank=True)
    caution = serializers.CharField(max_length=2000, required=False, allow_blank=True)
    depends_on = serializers.ListField(
        child=serializers.IntegerField(min_value=1),
        required=False,
        max_length=500,
        help_text="Ids of the tasks that must come first.",
    )


class TaskEventBody(serializers.Serializer[Any]):
    """What happens to a task."""

    event = serializers.ChoiceField(choices=choices(TASK_EVENT_LABELS))
    reason = serializers.CharField(max_length=200, required=False, allow_blank=True)
    seen_state = serializers.ChoiceField(
        choices=choices(TASK_STATE_LABELS),
        required=False,
        help_text="The state last seen; where it has changed, nothing is done (409).",
    )


class PlaceBody(serializers.Serializer[Any]):
    """A place in the list, from 1."""

    position = serializers.IntegerField(min_value=1, max_value=10_000)


class ApplyBody(serializers.Serializer[Any]):
    """Which template is laid out."""

    template_id = serializers.IntegerField(min_value=1)


class WorkOrderTasksView(ShopView):
    @extend_schema(
        operation_id="tasks_list",
        summary="The tasks of a work order in their order",
        tags=TAG,
        responses=answers_many(TaskRow),
    )
    def get(self, request: Request, work_order_id: int) -> Response:
        rows = tasks_of(work_order_id=work_order_id, viewer=self.viewer)
        return Response(shape(TaskRow)(rows, many=True).data)

    @extend_schema(
        operation_id="tasks_plan",
        summary="Plan a task on an open work order",
        tags=TAG,
        request=TaskBody,
        examples=[
            OpenApiExample(
                "A wheel",
                {
                    "operation": "Lace and true the rear wheel",
                    "optimistic_hours": "2",
                    "likely_hours": "3",
                    "pessimistic_hours": "6",
                },
                request_only=True,
            )
        ],
        responses=answers(TaskRow, status=201, of=MOVING),
    )
    def post(self, request: Request, work_order_id: int) -> Response:
        body = dict(self.body(TaskBody))
        made = plan_task(
            work_order_id=work_order_id,
            depends_on=body.pop("depends_on", ()),
            details=TaskDetails(**body),
            acting_user=self.person,
            at=self.now,
        )
        return created(task(task_id=made.pk, viewer=self.viewer))


class WorkOrderTemplateView(ShopView):
    @extend_schema(
        operation_id="tasks_lay_out",
        summary="Lay out a template's tasks on an open work order",
        tags=TAG,
        request=ApplyBody,
        responses={201: shape(TaskRow)(many=True)},
    )
    def post(self, request: Request, work_order_id: int) -> Response:
        apply_task_template(
            work_order_id=work_order_id,
            template_id=self.body(ApplyBody)["template_id"],
            acting_user=self.person,
            at=self.now,
        )
        rows = tasks_of(work_order_id=work_order_id, viewer=self.viewer)
        return Response(shape(TaskRow)(rows, many=True).data, status=201)


class TaskView(ShopView):
    @extend_schema(
        operation_id="tasks_read",
        summary="A task",
        tags=TAG,
        responses=answers(TaskRow, of=READING),
    )
    def get(self, request: Request, task_id: int) -> Response:
        return one(task(task_id=task_id, viewer=self.viewer))

    @extend_schema(
        operation_id="tasks_edit",
        summary="Correct a task",
        tags=TAG,
        request=TaskBody,
        responses=answers(TaskRow, of=MOVING),
    )
    def patch(self, request: Request, task_id: int) -> Response:
        edit_task(
            task_id=task_id,
            changes=self.changes(TaskBody),
            acting_user=self.person,
            at=self.now,
        )
        return one(task(task_id=task_id, viewer=self.viewer))


class TaskEventsView(ShopView):
    @extend_schema(
        operation_id="tasks_move",
        summary="Move a task along",
        tags=TAG,
        request=TaskEventBody,
        examples=[
            OpenApiExample(
                "Started",
                {"event": "start", "seen_state": "planned"},
                request_only=True,
            )
        ],
        responses=answers(TaskRow, of=MOVING),
    )
    def post(self, request: Request, task_id: int) -> Response:
        body = self.body(TaskEventBody)
        seen = body.get("seen_state")
        move_task(
            task_id=task_id,
            event=TaskEvent(body["event"]),
            reason=body.get("reason", ""),
            seen_state=TaskState(seen) if seen else None,
            acting_user=self.person,
            at=self.now,
        )
        return one(task(task_id=task_id, viewer=self.viewer))


class TaskPlaceView(ShopView):
    @extend_schema(
        operation_id="tasks_place",
        summary="Move a task to another place in its list",
        tags=TAG,
        request=PlaceBody,
        responses=answers(TaskRow, of=MOVING),
    )
    def post(self, request: Request, task_id: int) -> Response:
        place_task(
            task_id=task_id,
            position=self.body(PlaceBody)["position"],
            acting_user=self.person,
            at=self.now,
        )
        return one(task(task_id=task_id, viewer=self.viewer))


class TaskTemplatesView(ShopView):
    @extend_schema(
        operation_id="task_templates_list",
        summary="The shop's common jobs",
        tags=TAG,
        responses=answers_many(TaskTemplateRow),
    )
    def get(self, request: Request) -> Response:
        rows = task_template_list(viewer=self.viewer)
        return Response(shape(TaskTemplateRow)(rows, many=True).data)


class TaskTemplateView(ShopView):
    @extend_schema(
        operation_id="task_templates_read",
        summary="A common job with its steps",
        tags=TAG,
        responses=answers(TaskTemplatePage, of=READING),
    )
    def get(self, request: Request, template_id: int) -> Response:
        return one(task_template_page(template_id=template_id, viewer=self.viewer))
