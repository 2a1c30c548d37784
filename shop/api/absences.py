"""Days away over the API."""

from typing import Any

from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers, status
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.absences import add_absence, withdraw_absence
from shop.api.describe import READING, WRITING, answers, no_content
from shop.api.views import ShopView, created, one
from shop.domain.absences import AbsenceDetails
from shop.selectors.absences import AbsenceRow, absence

TAG = ["working hours"]


class AbsenceBody(serializers.Serializer[Any]):
    """Whole days away, the first and the last among them."""

    first_on = serializers.DateField()
    last_on = serializers.DateField()
    reason = serializers.CharField(required=False, allow_blank=True)


class AbsencesView(ShopView):
    @extend_schema(
        operation_id="absences_add",
        summary="Enter days on which somebody is away",
        tags=TAG,
        request=AbsenceBody,
        examples=[
            OpenApiExample(
                "A week",
                {"first_on": "2026-12-21", "last_on": "2026-12-27", "reason": "away"},
                request_only=True,
            )
        ],
        responses=answers(AbsenceRow, status=201, of=WRITING),
    )
    def post(self, request: Request, technician_id: int) -> Response:
        made = add_absence(
            technician_id=technician_id,
            details=AbsenceDetails(**self.body(AbsenceBody)),
            acting_user=self.person,
            at=self.now,
        )
        return created(absence(absence_id=made.pk, viewer=self.viewer))


class AbsenceView(ShopView):
    @extend_schema(
        operation_id="absences_read",
        summary="Days away",
        tags=TAG,
        responses=answers(AbsenceRow, of=READING),
    )
    def get(self, request: Request, absence_id: int) -> Response:
        return one(absence(absence_id=absence_id, viewer=self.viewer))

    @extend_schema(
        operation_id="absences_withdraw",
        summary="Take days away back",
        tags=TAG,
        responses=no_content(READING),
    )
    def delete(self, request: Request, absence_id: int) -> Response:
        withdraw_absence(absence_id=absence_id, acting_user=self.person, at=self.now)
        return Response(status=status.HTTP_204_NO_CONTENT)
