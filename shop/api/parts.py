"""The parts list over the API."""

from typing import Any

from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.parts import add_part, edit_part
from shop.api.describe import READING, WRITING, answers, answers_many, answers_page
from shop.api.shapes import shape
from shop.api.views import ShopView, WindowQuery, created, one, page
from shop.domain.parts import (
    CONDITION_LABELS,
    UNIT_LABELS,
    PartCondition,
    PartDetails,
)
from shop.models.columns import choices
from shop.selectors.parts import PartFilter, PartRow, part_list, part_page
from shop.selectors.tax_rates import TaxRateRow, tax_rates_in_use

TAG = ["parts"]
EXAMPLE = OpenApiExample(
    "A part",
    {
        "number": "EL-0012",
        "description": "Bulb holder, rear",
        "condition": "new_old_stock",
        "unit": "each",
        "price": "12.40",
        "tax_rate_id": 1,
        "bin": "C4",
    },
    request_only=True,
)


class PartBody(serializers.Serializer[Any]):
    """What can be entered about a part."""

    number = serializers.CharField(max_length=60)
    description = serializers.CharField(max_length=200)
    price = serializers.DecimalField(
        max_digits=14, decimal_places=4, help_text="For one unit, without tax."
    )
    tax_rate_id = serializers.IntegerField(min_value=1)
    condition = serializers.ChoiceField(
        choices=choices(CONDITION_LABELS), required=False
    )
    unit = serializers.ChoiceField(choices=choices(UNIT_LABELS), required=False)
    bin = serializers.CharField(max_length=40, required=False, allow_blank=True)
    notes = serializers.CharField(max_length=5000, required=False, allow_blank=True)
    is_retired = serializers.BooleanField(required=False)


class PartQuery(WindowQuery):
    """Which parts are wanted."""

    q = serializers.CharField(
        required=False, allow_blank=True, help_text="Words that all must be found."
    )
    condition = serializers.ChoiceField(
        choices=choices(CONDITION_LABELS), required=False
    )
    retired_too = serializers.BooleanField(required=False, default=False)


class PartsView(ShopView):
    @extend_schema(
        operation_id="parts_list",
        summary="The parts list, by number",
        tags=TAG,
        parameters=[PartQuery],
        responses=answers_page(PartRow),
    )
    def get(self, request: Request) -> Response:
        asked = self.query(PartQuery)
        condition = asked.get("condition")
        wanted = PartFilter(
            search=asked.get("q", ""),
            condition=PartCondition(condition) if condition else None,
            retired_too=asked["retired_too"],
        )
        found = part_list(viewer=self.viewer, wanted=wanted, window=self.window())
        return page(request, found, PartRow)

    @extend_schema(
        operation_id="parts_add",
        summary="Put a part on the parts list",
        tags=TAG,
        request=PartBody,
        examples=[EXAMPLE],
        responses=answers(PartRow, status=201, of=WRITING),
    )
    def post(self, request: Request) -> Response:
        part = add_part(
            details=PartDetails(**self.body(PartBody)),
            acting_user=self.person,
            at=self.now,
        )
        return created(part_page(part_id=part.pk, viewer=self.viewer))


class PartView(ShopView):
    @extend_schema(
        operation_id="parts_read",
        summary="A part",
        tags=TAG,
        responses=answers(PartRow, of=READING),
    )
    def get(self, request: Request, part_id: int) -> Response:
        return one(part_page(part_id=part_id, viewer=self.viewer))

    @extend_schema(
        operation_id="parts_edit",
        summary="Correct a part; lines that exist keep their copies",
        tags=TAG,
        request=PartBody,
        examples=[EXAMPLE],
        responses=answers(PartRow, of=WRITING),
    )
    def patch(self, request: Request, part_id: int) -> Response:
        edit_part(
            part_id=part_id,
            changes=self.changes(PartBody),
            acting_user=self.person,
            at=self.now,
        )
        return one(part_page(part_id=part_id, viewer=self.viewer))


class TaxRatesView(ShopView):
    @extend_schema(
        operation_id="tax_rates_list",
        summary="Tax rates in use, the highest first",
        tags=TAG,
        responses=answers_many(TaxRateRow),
    )
    def get(self, request: Request) -> Response:
        return Response(shape(TaxRateRow)(tax_rates_in_use(), many=True).data)
