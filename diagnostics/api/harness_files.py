"""The library of drawings for programs."""

from drf_spectacular.utils import OpenApiParameter, OpenApiResponse, extend_schema
from rest_framework.parsers import MultiPartParser
from rest_framework.request import Request
from rest_framework.response import Response
from typing_extensions import override

from diagnostics.actions.harness_files import upload_harness
from diagnostics.api.answers import (
    FileProblemsSerializer,
    created,
    many,
    one,
    problem,
)
from diagnostics.api.bodies import HarnessFileBody, HarnessFileUpload
from diagnostics.api.shapes import shape
from diagnostics.refusals import HarnessFileRefused
from diagnostics.selectors.harness_files import (
    HarnessFileLine,
    HarnessFilePage,
    harness_file_page,
    library,
)
from shop.api.parsers import CarefulJSONParser
from shop.api.problems import PROBLEM_JSON
from shop.api.views import ShopView


class HarnessFiles(ShopView):
    """The shelf."""

    parser_classes = [CarefulJSONParser, MultiPartParser]

    @extend_schema(
        operation_id="harness_files_list",
        parameters=[OpenApiParameter("q", str, description="Words to look for.")],
        responses={200: shape(HarnessFileLine)(many=True), **problem(403)},
    )
    def get(self, request: Request) -> Response:
        """List the drawings."""
        words = request.query_params.get("q", "")
        return many(library(viewer=self.viewer, words=words).lines, HarnessFileLine)

    @extend_schema(
        operation_id="harness_files_add",
        request={
            "application/json": HarnessFileBody,
            "multipart/form-data": HarnessFileUpload,
        },
        responses={
            201: shape(HarnessFilePage),
            (400, PROBLEM_JSON): OpenApiResponse(
                FileProblemsSerializer, "Refused; every problem with its line."
            ),
            **problem(403),
        },
    )
    def post(self, request: Request) -> Response:
        """Take a drawing into the library, whole or not at all."""
        uploads = (request.content_type or "").startswith("multipart/")
        data = self.body(HarnessFileUpload if uploads else HarnessFileBody)
        content = data["file"].read() if uploads else data["text"].encode()
        file = upload_harness(
            maker=data["maker"],
            model=data["model"],
            years=data["years"],
            content=content,
            acting_user=self.person,
            at=self.now,
        )
        return created(harness_file_page(harness_file_id=file.pk, viewer=self.viewer))

    @override
    def handle_exception(self, exc: Exception) -> Response:
        """Add the problems of the file to the problem document."""
        response = super().handle_exception(exc)
        if isinstance(exc, HarnessFileRefused) and isinstance(response.data, dict):
            response.data["problems"] = [
                {"line": p.line, "where": p.where, "what": p.what, "mend": p.mend}
                for p in exc.problems
            ]
        return response


class HarnessFile(ShopView):
    """One drawing."""

    @extend_schema(
        operation_id="harness_files_read",
        responses={200: shape(HarnessFilePage), **problem(403, 404)},
    )
    def get(self, request: Request, harness_file_id: int) -> Response:
        """Read one drawing with its devices, wires and text."""
        return one(
            harness_file_page(harness_file_id=harness_file_id, viewer=self.viewer)
        )
