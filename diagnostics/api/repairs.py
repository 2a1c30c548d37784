"""Repairs for programs."""

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from diagnostics.actions.repairs import RepairEntry, record_repair
from diagnostics.api.answers import KEY_PARAMETER, created, key_of, many, problem
from diagnostics.api.bodies import RepairBody
from diagnostics.api.shapes import shape
from diagnostics.selectors.cases import CasePage, RepairView, case_page
from shop.api.views import ShopView


class CaseRepairs(ShopView):
    """The repairs of a case."""

    @extend_schema(
        operation_id="repairs_list",
        responses={200: shape(RepairView)(many=True), **problem(403, 404)},
    )
    def get(self, request: Request, case_id: int) -> Response:
        """List the repairs in the order they were made."""
        page = case_page(case_id=case_id, viewer=self.viewer)
        return many(page.repairs, RepairView)

    @extend_schema(
        operation_id="repairs_record",
        parameters=[KEY_PARAMETER],
        request=RepairBody,
        responses={201: shape(CasePage), **problem(400, 403, 404, 409)},
    )
    def post(self, request: Request, case_id: int) -> Response:
        """Record a repair; its proof is then wanted."""
        data = self.body(RepairBody)
        record_repair(
            case_id=case_id,
            entry=RepairEntry(
                done=data["done"],
                segments=data["segments"],
                mode=data["mode"],
                parts=data["parts"],
            ),
            key=key_of(request),
            acting_user=self.person,
            at=self.now,
        )
        return created(case_page(case_id=case_id, viewer=self.viewer))
