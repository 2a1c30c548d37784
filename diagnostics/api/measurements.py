"""Measurements for programs: what can be measured, what was, and how it was judged."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from diagnostics.actions.measurements import (
    MeasurementEntry,
    record_measurement,
    void_measurement,
)
from diagnostics.api.answers import (
    KEY_PARAMETER,
    created,
    key_of,
    many,
    one,
    problem,
)
from diagnostics.api.bodies import ReasonBody
from diagnostics.api.shapes import shape
from diagnostics.convert import LONGEST_NOTE
from diagnostics.selectors.measurements import (
    KindView,
    MeasurementView,
)
from diagnostics.selectors.measuring import measurement_page, measurements_page
from shop.api.views import ShopView


class MeasurementBody(serializers.Serializer[Any]):
    """One measurement: its kind, and the readings by the names of its inputs."""

    kind = serializers.CharField(max_length=40)
    readings = serializers.DictField(
        child=serializers.CharField(max_length=40, allow_blank=True),
        help_text="Numbers with point or comma, the name of a choice, or open.",
    )
    note = serializers.CharField(max_length=LONGEST_NOTE, allow_blank=True, default="")


class CaseMeasurements(ShopView):
    """The measurements of a case."""

    @extend_schema(
        operation_id="measurements_list",
        responses={200: shape(MeasurementView)(many=True), **problem(403, 404)},
    )
    def get(self, request: Request, case_id: int) -> Response:
        """List the measurements in the order they were taken, voided ones as well."""
        page = measurements_page(case_id=case_id, viewer=self.viewer)
        return many(page.measurements, MeasurementView)

    @extend_schema(
        operation_id="measurements_take",
        parameters=[KEY_PARAMETER],
        request=MeasurementBody,
        responses={201: shape(MeasurementView), **problem(400, 403, 404, 409)},
    )
    def post(self, request: Request, case_id: int) -> Response:
        """Take a measurement; the answer is its judgement."""
        data = self.body(MeasurementBody)
        made = record_measurement(
            case_id=case_id,
            entry=MeasurementEntry(
                kind=data["kind"], readings=data["readings"], note=data["note"]
            ),
            key=key_of(request),
            acting_user=self.person,
            at=self.now,
        )
        page = measurement_page(measurement_id=made.pk, viewer=self.viewer)
        return created(page.measurement)


class CaseMeasurementKinds(ShopView):
    """What can be measured on a case's bike."""

    @extend_schema(
        operation_id="measurement_kinds_list",
        responses={200: shape(KindView)(many=True), **problem(403, 404)},
    )
    def get(self, request: Request, case_id: int) -> Response:
        """List the kinds with their steps, inputs, cautions and limits."""
        page = measurements_page(case_id=case_id, viewer=self.viewer)
        return many(page.kinds, KindView)


class MeasurementTaken(ShopView):
    """One measurement."""

    @extend_schema(
        operation_id="measurements_read",
        responses={200: shape(MeasurementView), **problem(403, 404)},
    )
    def get(self, request: Request, measurement_id: int) -> Response:
        """Show a measurement as it was judged when it was taken."""
        page = measurement_page(measurement_id=measurement_id, viewer=self.viewer)
        return one(page.measurement)


class MeasurementVoiding(ShopView):
    """A measurement withdrawn."""

    @extend_schema(
        operation_id="measurements_void",
        request=ReasonBody,
        responses={200: shape(MeasurementView), **problem(400, 403, 404, 409)},
    )
    def post(self, request: Request, measurement_id: int) -> Response:
        """Withdraw a measurement with the reason; it stays on record."""
        void_measurement(
            measurement_id=measurement_id,
            reason=self.body(ReasonBody)["reason"],
            acting_user=self.person,
            at=self.now,
        )
        page = measurement_page(measurement_id=measurement_id, viewer=self.viewer)
        return one(page.measurement)
