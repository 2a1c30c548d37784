"""The history of belief for programs."""

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from diagnostics.api.answers import many, one, problem
from diagnostics.api.shapes import shape
from diagnostics.selectors.beliefs import BeliefStep, BeliefView
from diagnostics.selectors.cases import replay_page
from shop.api.views import ShopView


class CaseBeliefs(ShopView):
    """Every step of a case."""

    @extend_schema(
        operation_id="beliefs_list",
        responses={200: shape(BeliefStep)(many=True), **problem(403, 404)},
    )
    def get(self, request: Request, case_id: int) -> Response:
        """List the steps with what was suspected most at each."""
        page = replay_page(case_id=case_id, step=None, viewer=self.viewer)
        return many(page.steps, BeliefStep)


class CaseBelief(ShopView):
    """One step of a case."""

    @extend_schema(
        operation_id="beliefs_read",
        responses={200: shape(BeliefView), **problem(403, 404)},
    )
    def get(self, request: Request, case_id: int, step: int) -> Response:
        """Read what was believed at a step, as it was concluded then."""
        page = replay_page(case_id=case_id, step=step, viewer=self.viewer)
        return one(page.belief)
