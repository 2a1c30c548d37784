"""Odometer readings over the API."""

from typing import Any

from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.odometer_readings import correct_odometer, read_odometer
from shop.api.describe import MOVING, READING, answers
from shop.api.views import ShopView, created, one
from shop.domain.odometer_readings import ODOMETER_UNIT_LABELS, OdometerEntry
from shop.models.columns import choices
from shop.selectors.odometer_readings import (
    Odometer,
    OdometerRow,
    odometer_of_bike,
    odometer_reading,
)

TAG = ["odometer readings"]
ODOMETER_UNITS = choices(ODOMETER_UNIT_LABELS)
EXAMPLE = OpenApiExample(
    "A reading", {"distance": "20417.0", "unit": "miles"}, request_only=True
)


class CorrectionBody(serializers.Serializer[Any]):
    """What the odometer shows; a reason where it runs backwards."""

    distance = serializers.DecimalField(max_digits=9, decimal_places=1, min_value=0)
    unit = serializers.ChoiceField(choices=ODOMETER_UNITS)
    read_on = serializers.DateField(required=False, allow_null=True)
    reason = serializers.CharField(max_length=200, required=False, allow_blank=True)


class ReadingBody(CorrectionBody):
    """The same, and the work order that it was read on."""

    work_order_id = serializers.IntegerField(
        min_value=1, required=False, allow_null=True
    )


class BikeOdometerView(ShopView):
    @extend_schema(
        operation_id="odometer_readings_list",
        summary="What a bike's odometer showed over the years",
        tags=TAG,
        responses=answers(Odometer, of=READING),
    )
    def get(self, request: Request, bike_id: int) -> Response:
        return one(odometer_of_bike(bike_id=bike_id, viewer=self.viewer))

    @extend_schema(
        operation_id="odometer_readings_add",
        summary="Write down what a bike's odometer shows",
        tags=TAG,
        request=ReadingBody,
        examples=[EXAMPLE],
        responses=answers(OdometerRow, status=201, of=MOVING),
    )
    def post(self, request: Request, bike_id: int) -> Response:
        body = dict(self.body(ReadingBody))
        work_order_id = body.pop("work_order_id", None)
        row = read_odometer(
            bike_id=bike_id,
            work_order_id=work_order_id,
            entry=OdometerEntry(**body),
            acting_user=self.person,
            at=self.now,
        )
        return created(odometer_reading(reading_id=row.pk, viewer=self.viewer))


class OdometerCorrectView(ShopView):
    @extend_schema(
        operation_id="odometer_readings_correct",
        summary="Put a right reading in the place of a wrong one; both stay",
        tags=TAG,
        request=CorrectionBody,
        examples=[
            OpenApiExample(
                "Two figures were swapped",
                {"distance": "20147", "unit": "miles", "reason": "Figures swapped"},
                request_only=True,
            )
        ],
        responses=answers(OdometerRow, status=201, of=MOVING),
    )
    def post(self, request: Request, reading_id: int) -> Response:
        row = correct_odometer(
            reading_id=reading_id,
            entry=OdometerEntry(**self.body(CorrectionBody)),
            acting_user=self.person,
            at=self.now,
        )
        return created(odometer_reading(reading_id=row.pk, viewer=self.viewer))
