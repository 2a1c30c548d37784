"""Part lines over the API."""

from typing import Any

from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.part_lines import add_part_line, void_part_line
from shop.api.describe import MOVING, READING, answers
from shop.api.labour import VOID_EXAMPLE, VoidBody
from shop.api.views import ShopView, created, one
from shop.selectors.part_lines import PartLineRow, part_line

TAG = ["part lines"]


class PartLineBody(serializers.Serializer[Any]):
    """A part put on a work order."""

    part_id = serializers.IntegerField(min_value=1)
    quantity = serializers.DecimalField(max_digits=9, decimal_places=3)


class WorkOrderPartLinesView(ShopView):
    @extend_schema(
        operation_id="part_lines_add",
        summary="Put a part on an open work order",
        tags=TAG,
        request=PartLineBody,
        examples=[
            OpenApiExample(
                "Two of a part", {"part_id": 1, "quantity": "2"}, request_only=True
            )
        ],
        responses=answers(PartLineRow, status=201, of=MOVING),
    )
    def post(self, request: Request, work_order_id: int) -> Response:
        body = self.body(PartLineBody)
        line = add_part_line(
            work_order_id=work_order_id,
            part_id=body["part_id"],
            quantity=body["quantity"],
            acting_user=self.person,
            at=self.now,
        )
        return created(part_line(line_id=line.pk, viewer=self.viewer))


class PartLineView(ShopView):
    @extend_schema(
        operation_id="part_lines_read",
        summary="A part line",
        tags=TAG,
        responses=answers(PartLineRow, of=READING),
    )
    def get(self, request: Request, line_id: int) -> Response:
        return one(part_line(line_id=line_id, viewer=self.viewer))


class PartLineVoidView(ShopView):
    @extend_schema(
        operation_id="part_lines_void",
        summary="Strike out a part line, with the reason",
        tags=TAG,
        request=VoidBody,
        examples=[VOID_EXAMPLE],
        responses=answers(PartLineRow, of=MOVING),
    )
    def post(self, request: Request, line_id: int) -> Response:
        void_part_line(
            line_id=line_id,
            reason=self.body(VoidBody)["reason"],
            acting_user=self.person,
            at=self.now,
        )
        return one(part_line(line_id=line_id, viewer=self.viewer))
