"""A bike's time line over the API."""

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from shop.api.describe import answers_page_of
from shop.api.views import ShopView, WindowQuery, page
from shop.selectors.timeline import TimelineRow, bike_timeline


class TimelineQuery(WindowQuery):
    """Which acts are wanted."""

    kind = serializers.CharField(
        required=False,
        allow_blank=True,
        help_text="One kind alone: work_orders, labour, parts, owners, odometer ...",
    )


class BikeTimelineView(ShopView):
    @extend_schema(
        operation_id="bikes_timeline",
        summary="Everything ever done to a bike, the newest first",
        tags=["bikes"],
        parameters=[TimelineQuery],
        responses=answers_page_of(TimelineRow),
    )
    def get(self, request: Request, bike_id: int) -> Response:
        found = bike_timeline(
            bike_id=bike_id,
            viewer=self.viewer,
            kind=self.query(TimelineQuery).get("kind", ""),
            window=self.window(),
        )
        return page(request, found, TimelineRow)
