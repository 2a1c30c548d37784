"""The board over the API."""

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from shop.api.describe import answers_many
from shop.api.shapes import shape
from shop.api.views import ShopView
from shop.selectors.board import StateCount, state_counts


class BoardView(ShopView):
    @extend_schema(
        operation_id="board_read",
        summary="How many work orders stand in each state",
        tags=["work orders"],
        responses=answers_many(StateCount),
    )
    def get(self, request: Request) -> Response:
        return Response(
            shape(StateCount)(state_counts(viewer=self.viewer), many=True).data
        )
