"""Labour lines over the API."""

from typing import Any

from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.labour import add_labour, void_labour
from shop.api.describe import MOVING, READING, answers
from shop.api.views import ShopView, created, one
from shop.domain.labour import LABOUR_KIND_LABELS, MAX_MINUTES, LabourEntry
from shop.domain.pricing import BILLING_LABELS
from shop.models.columns import choices
from shop.selectors.labour import LabourRow, labour_line

TAG = ["labour lines"]
LABOUR_KINDS = choices(LABOUR_KIND_LABELS)


class LabourBody(serializers.Serializer[Any]):
    """Time spent on a work order."""

    kind = serializers.ChoiceField(choices=LABOUR_KINDS)
    minutes = serializers.IntegerField(min_value=1, max_value=MAX_MINUTES)
    description = serializers.CharField(max_length=400)
    reason = serializers.CharField(
        max_length=200, help_text="Why it is entered by hand and was not clocked."
    )
    billing = serializers.ChoiceField(
        choices=choices(BILLING_LABELS),
        required=False,
        help_text="Who bears it; the customer unless said.",
    )
    task_id = serializers.IntegerField(
        required=False,
        allow_null=True,
        min_value=1,
        help_text="The task of the work order that it went into.",
    )
    done_on = serializers.DateField(
        required=False, allow_null=True, help_text="Today unless said."
    )
    technician_id = serializers.IntegerField(
        required=False, allow_null=True, min_value=1, help_text="You unless said."
    )
    hourly_rate = serializers.DecimalField(
        max_digits=14,
        decimal_places=4,
        required=False,
        allow_null=True,
        help_text="The person's own rate unless said, else the shop's.",
    )
    tax_rate_id = serializers.IntegerField(
        required=False,
        allow_null=True,
        min_value=1,
        help_text="The shop's default rate unless said.",
    )


class VoidBody(serializers.Serializer[Any]):
    """Why a line is struck out."""

    reason = serializers.CharField(max_length=200)


VOID_EXAMPLE = OpenApiExample(
    "A reason", {"reason": "booked on the wrong work order"}, request_only=True
)


class WorkOrderLabourView(ShopView):
    @extend_schema(
        operation_id="labour_lines_add",
        summary="Book time on an open work order",
        tags=TAG,
        request=LabourBody,
        examples=[
            OpenApiExample(
                "Fault finding",
                {
                    "kind": "fault_finding",
                    "minutes": 50,
                    "description": "Traced the feed to the head lamp",
                    "reason": "the phone's battery was flat",
                },
                request_only=True,
            )
        ],
        responses=answers(LabourRow, status=201, of=MOVING),
    )
    def post(self, request: Request, work_order_id: int) -> Response:
        line = add_labour(
            work_order_id=work_order_id,
            entry=LabourEntry(**self.body(LabourBody)),
            acting_user=self.person,
            at=self.now,
        )
        return created(labour_line(line_id=line.pk, viewer=self.viewer))


class LabourLineView(ShopView):
    @extend_schema(
        operation_id="labour_lines_read",
        summary="A labour line",
        tags=TAG,
        responses=answers(LabourRow, of=READING),
    )
    def get(self, request: Request, line_id: int) -> Response:
        return one(labour_line(line_id=line_id, viewer=self.viewer))


class LabourVoidView(ShopView):
    @extend_schema(
        operation_id="labour_lines_void",
        summary="Strike out a labour line, with the reason",
        tags=TAG,
        request=VoidBody,
        examples=[VOID_EXAMPLE],
        responses=answers(LabourRow, of=MOVING),
    )
    def post(self, request: Request, line_id: int) -> Response:
        void_labour(
            line_id=line_id,
            reason=self.body(VoidBody)["reason"],
            acting_user=self.person,
            at=self.now,
        )
        return one(labour_line(line_id=line_id, viewer=self.viewer))
