"""Rates of an hour by technician and kind, over the API."""

from typing import Any

from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.labour_rates import set_labour_rate
from shop.api.describe import WRITING, answers_many, problems
from shop.api.shapes import shape
from shop.api.views import ShopView
from shop.domain.labour import LABOUR_KIND_LABELS
from shop.domain.labour_rates import RateEntry
from shop.models.columns import choices
from shop.selectors.labour_rates import LabourRateRow, labour_rates

TAG = ["labour rates"]


class RateBody(serializers.Serializer[Any]):
    """A rate for one kind of work."""

    kind = serializers.ChoiceField(choices=choices(LABOUR_KIND_LABELS))
    hourly_rate = serializers.DecimalField(
        max_digits=14,
        decimal_places=4,
        allow_null=True,
        help_text="Without tax; null takes the rate away.",
    )
    technician_id = serializers.IntegerField(
        required=False,
        allow_null=True,
        min_value=1,
        help_text="Whoever works unless said.",
    )


class LabourRatesView(ShopView):
    @extend_schema(
        operation_id="labour_rates_list",
        summary="Every rate that holds, the shop's own first",
        tags=TAG,
        responses=answers_many(LabourRateRow),
    )
    def get(self, request: Request) -> Response:
        return self._rows()

    @extend_schema(
        operation_id="labour_rates_set",
        summary="Set a rate from now on, or take it away",
        tags=TAG,
        request=RateBody,
        examples=[
            OpenApiExample(
                "Fault finding, whoever works",
                {"kind": "fault_finding", "hourly_rate": "62.00"},
                request_only=True,
            )
        ],
        responses={200: shape(LabourRateRow)(many=True), **problems(WRITING)},
    )
    def put(self, request: Request) -> Response:
        set_labour_rate(
            entry=RateEntry(**self.body(RateBody)),
            acting_user=self.person,
            at=self.now,
        )
        return self._rows()

    def _rows(self) -> Response:
        rows = labour_rates(viewer=self.viewer)
        return Response(shape(LabourRateRow)(rows, many=True).data)
