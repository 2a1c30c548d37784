"""Hours at the bench over the API."""

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.working_hours import set_working_hours
from shop.api.describe import READING, WRITING, answers, answers_many
from shop.api.shapes import shape
from shop.api.views import ShopView, one
from shop.selectors.working_hours import (
    WorkingHoursRow,
    working_hours_list,
    working_hours_of,
)

TAG = ["working hours"]


class WeekBody(serializers.Serializer[Any]):
    """Hours at the bench of some weekdays."""

    monday = serializers.DecimalField(max_digits=4, decimal_places=2, required=False)
    tuesday = serializers.DecimalField(max_digits=4, decimal_places=2, required=False)
    wednesday = serializers.DecimalField(max_digits=4, decimal_places=2, required=False)
    thursday = serializers.DecimalField(max_digits=4, decimal_places=2, required=False)
    friday = serializers.DecimalField(max_digits=4, decimal_places=2, required=False)
    saturday = serializers.DecimalField(max_digits=4, decimal_places=2, required=False)
    sunday = serializers.DecimalField(max_digits=4, decimal_places=2, required=False)


class WorkingHoursListView(ShopView):
    @extend_schema(
        operation_id="working_hours_list",
        summary="Everybody's week at the bench, and who is away",
        tags=TAG,
        responses=answers_many(WorkingHoursRow),
    )
    def get(self, request: Request) -> Response:
        today = timezone.localtime(self.now).date()
        rows = working_hours_list(viewer=self.viewer, today=today)
        return Response(shape(WorkingHoursRow)(rows, many=True).data)


class WorkingHoursView(ShopView):
    @extend_schema(
        operation_id="working_hours_read",
        summary="One person's week at the bench",
        tags=TAG,
        responses=answers(WorkingHoursRow, of=READING),
    )
    def get(self, request: Request, technician_id: int) -> Response:
        return one(working_hours_of(technician_id=technician_id, viewer=self.viewer))

    @extend_schema(
        operation_id="working_hours_set",
        summary="Write some weekdays of one person's week down",
        tags=TAG,
        request=WeekBody,
        examples=[
            OpenApiExample("A short Friday", {"friday": "4.5"}, request_only=True)
        ],
        responses=answers(WorkingHoursRow, of=WRITING),
    )
    def patch(self, request: Request, technician_id: int) -> Response:
        set_working_hours(
            technician_id=technician_id,
            changes=self.changes(WeekBody),
            acting_user=self.person,
            at=self.now,
        )
        return one(working_hours_of(technician_id=technician_id, viewer=self.viewer))
