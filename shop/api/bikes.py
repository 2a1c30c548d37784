"""Bikes over the API."""

from typing import Any

from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.bikes import add_bike, edit_bike
from shop.api.describe import READING, WRITING, answers, answers_page
from shop.api.views import ShopView, WindowQuery, created, one, page
from shop.domain.bikes import (
    EARTH_LABELS,
    FIRST_YEAR,
    LAST_YEAR,
    BikeDetails,
    SystemVoltage,
)
from shop.models.columns import choices
from shop.selectors.bikes import BikePage, BikeRow, bike_list, bike_page, bike_row

TAG = ["bikes"]
DETAILS = {
    "maker": "Tarnfell",
    "model": "Heron 350",
    "year": 1961,
    "frame_number": "H35/0417",
    "engine_number": "0417 E",
    "system_volts": 6,
    "earth": "positive",
}


class BikeChanges(serializers.Serializer[Any]):
    """What can be entered about a bike; numbers as they are stamped."""

    maker = serializers.CharField(max_length=80)
    model = serializers.CharField(max_length=80)
    year = serializers.IntegerField(
        min_value=FIRST_YEAR, max_value=LAST_YEAR, required=False, allow_null=True
    )
    registration = serializers.CharField(
        max_length=40, required=False, allow_blank=True
    )
    frame_number = serializers.CharField(
        max_length=80, required=False, allow_blank=True
    )
    engine_number = serializers.CharField(
        max_length=80, required=False, allow_blank=True
    )
    colour = serializers.CharField(max_length=80, required=False, allow_blank=True)
    system_volts = serializers.ChoiceField(
        choices=[volts.value for volts in SystemVoltage], required=False
    )
    earth = serializers.ChoiceField(choices=choices(EARTH_LABELS), required=False)
    notes = serializers.CharField(max_length=5000, required=False, allow_blank=True)


class BikeBody(BikeChanges):
    """A new bike and whose it is."""

    owner_id = serializers.IntegerField(min_value=1)


class BikeQuery(WindowQuery):
    """Which bikes are wanted."""

    q = serializers.CharField(
        required=False, allow_blank=True, help_text="Words that all must be found."
    )
    owner = serializers.IntegerField(
        required=False, min_value=1, help_text="Bikes of one customer."
    )


class BikesView(ShopView):
    @extend_schema(
        operation_id="bikes_list",
        summary="Bikes, by maker and model",
        tags=TAG,
        parameters=[BikeQuery],
        responses=answers_page(BikeRow),
    )
    def get(self, request: Request) -> Response:
        asked = self.query(BikeQuery)
        found = bike_list(
            viewer=self.viewer,
            search=asked.get("q", ""),
            owner_id=asked.get("owner"),
            window=self.window(),
        )
        return page(request, found, BikeRow)

    @extend_schema(
        operation_id="bikes_add",
        summary="Write down a customer's bike",
        tags=TAG,
        request=BikeBody,
        examples=[
            OpenApiExample("A bike", {"owner_id": 1, **DETAILS}, request_only=True)
        ],
        responses=answers(BikeRow, status=201, of=WRITING),
    )
    def post(self, request: Request) -> Response:
        body = dict(self.body(BikeBody))
        bike = add_bike(
            owner_id=body.pop("owner_id"),
            details=BikeDetails(**body),
            acting_user=self.person,
            at=self.now,
        )
        return created(bike_row(bike, self.viewer))


class BikeView(ShopView):
    @extend_schema(
        operation_id="bikes_read",
        summary="A bike and everything that is known of it",
        tags=TAG,
        responses=answers(BikePage, of=READING),
    )
    def get(self, request: Request, bike_id: int) -> Response:
        return one(bike_page(bike_id=bike_id, viewer=self.viewer))

    @extend_schema(
        operation_id="bikes_edit",
        summary="Correct some of a bike's details",
        tags=TAG,
        request=BikeChanges,
        examples=[OpenApiExample("Details", DETAILS, request_only=True)],
        responses=answers(BikeRow, of=WRITING),
    )
    def patch(self, request: Request, bike_id: int) -> Response:
        bike = edit_bike(
            bike_id=bike_id,
            changes=self.changes(BikeChanges),
            acting_user=self.person,
            at=self.now,
        )
        return one(bike_row(bike, self.viewer))
