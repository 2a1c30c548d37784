"""Paper over the API: ask, see how far it is, download, try again."""

from collections.abc import Mapping
from typing import Any

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiResponse, extend_schema
from rest_framework import status
from rest_framework.renderers import BaseRenderer, JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response
from typing_extensions import override

from shop.actions.paper import request_report, retry
from shop.api.describe import MOVING, READING, WRITING, answers, problems
from shop.api.shapes import shape
from shop.api.views import ShopView, one
from shop.paper import drawer
from shop.selectors.paper import (
    PaperPanel,
    PaperRow,
    paper_file,
    paper_panel,
    paper_status,
)

TAG = ["paper"]
PDF = "application/pdf"


class PDFRenderer(BaseRenderer):
    """Hands a finished file through; a problem stays JSON."""

    media_type = PDF
    format = "pdf"
    charset = None
    render_style = "binary"

    @override
    def render(
        self,
        data: Any,
        accepted_media_type: str | None = None,
        renderer_context: Mapping[str, Any] | None = None,
    ) -> bytes:
        """Return the body's bytes."""
        if isinstance(data, bytes):
            return data
        rendered: bytes = JSONRenderer().render(data)
        return rendered


class WorkOrderPaperView(ShopView):
    @extend_schema(
        operation_id="paper_list",
        summary="The latest papers of a work order",
        tags=TAG,
        responses=answers(PaperPanel, of=READING),
    )
    def get(self, request: Request, work_order_id: int) -> Response:
        return one(paper_panel(work_order_id=work_order_id, viewer=self.viewer))

    @extend_schema(
        operation_id="paper_request",
        summary="Ask for the report of a work order",
        description=(
            "The same facts are one paper: asked for again, the same one is answered. "
            "202 while it waits or is made, 200 once it is ready."
        ),
        tags=TAG,
        request=None,
        responses={
            200: shape(PaperRow),
            202: shape(PaperRow),
            **problems(WRITING),
        },
    )
    def post(self, request: Request, work_order_id: int) -> Response:
        paper = request_report(
            work_order_id=work_order_id, acting_user=self.person, at=self.now
        )
        return _so_far(paper_status(paper_id=paper.pk, viewer=self.viewer))


class PaperView(ShopView):
    @extend_schema(
        operation_id="paper_read",
        summary="How far a paper is",
        tags=TAG,
        responses=answers(PaperRow, of=READING),
    )
    def get(self, request: Request, paper_id: int) -> Response:
        return one(paper_status(paper_id=paper_id, viewer=self.viewer))


class PaperRetryView(ShopView):
    @extend_schema(
        operation_id="paper_retry",
        summary="Try again to make a paper that could not be made",
        tags=TAG,
        request=None,
        responses=answers(PaperRow, of=MOVING, status=202),
    )
    def post(self, request: Request, paper_id: int) -> Response:
        retry(paper_id=paper_id, acting_user=self.person, at=self.now)
        return _so_far(paper_status(paper_id=paper_id, viewer=self.viewer))


class PaperFileView(ShopView):
    renderer_classes = [PDFRenderer, JSONRenderer]

    @extend_schema(
        operation_id="paper_file",
        summary="The finished paper",
        tags=TAG,
        responses={
            (200, PDF): OpenApiResponse(OpenApiTypes.BINARY, "A PDF/UA-1 file."),
            **problems((400, *READING)),
        },
    )
    def get(self, request: Request, paper_id: int) -> Response:
        file = paper_file(paper_id=paper_id, viewer=self.viewer)
        return Response(
            drawer.take(file.file_name, sha256=file.sha256),
            content_type=PDF,
            headers={
                "Content-Disposition": f'attachment; filename="{file.download_name}"',
                "Cache-Control": "private, no-store",
            },
        )


def _so_far(row: PaperRow) -> Response:
    answer = one(row)
    if row.is_under_way:
        answer.status_code = status.HTTP_202_ACCEPTED
    return answer
