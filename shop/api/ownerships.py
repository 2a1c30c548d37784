"""Owners of a bike over the API."""

from typing import Any

from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.ownerships import pass_on_bike
from shop.api.describe import WRITING, answers, answers_many
from shop.api.shapes import shape
from shop.api.views import ShopView, one
from shop.domain.ownerships import Handing
from shop.selectors.bikes import BikeRow, bike_row
from shop.selectors.ownerships import OwnershipRow, owners_of_bike

TAG = ["bikes"]


class OwnerBody(serializers.Serializer[Any]):
    """The customer who owns the bike from a day on; from today unless said."""

    owner_id = serializers.IntegerField(min_value=1)
    on = serializers.DateField(required=False, allow_null=True)
    note = serializers.CharField(max_length=400, required=False, allow_blank=True)


class BikeOwnerView(ShopView):
    @extend_schema(
        operation_id="bikes_pass_on",
        summary="Give a bike a new owner",
        tags=TAG,
        request=OwnerBody,
        examples=[
            OpenApiExample(
                "An owner", {"owner_id": 2, "on": "2026-03-01"}, request_only=True
            )
        ],
        responses=answers(BikeRow, of=WRITING),
    )
    def put(self, request: Request, bike_id: int) -> Response:
        body = dict(self.body(OwnerBody))
        bike = pass_on_bike(
            bike_id=bike_id,
            owner_id=body.pop("owner_id"),
            handing=Handing(**body),
            acting_user=self.person,
            at=self.now,
        )
        return one(bike_row(bike, self.viewer))


class BikeOwnersView(ShopView):
    @extend_schema(
        operation_id="bikes_owners",
        summary="The owners of a bike, the present one first",
        tags=TAG,
        responses=answers_many(OwnershipRow),
    )
    def get(self, request: Request, bike_id: int) -> Response:
        rows = owners_of_bike(bike_id=bike_id, viewer=self.viewer)
        return Response(shape(OwnershipRow)(rows, many=True).data)
