"""Why a segment has its verdict, for programs."""

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from diagnostics.api.answers import one, problem
from diagnostics.api.shapes import shape
from diagnostics.selectors.explanations import Explanation, explanation_page
from shop.api.views import ShopView


class SegmentWhy(ShopView):
    """The chain from the findings to a segment's verdict."""

    @extend_schema(
        operation_id="segments_why",
        responses={200: shape(Explanation), **problem(403, 404)},
    )
    def get(self, request: Request, case_id: int, segment: str) -> Response:
        """Read why a segment has its verdict: sentences, findings and segments."""
        page = explanation_page(case_id=case_id, segment=segment, viewer=self.viewer)
        return one(page.explanation)
