"""Photos and documents over the API."""

from typing import Any

from django.http import HttpResponseBase
from django.http.response import StreamingHttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiExample, OpenApiResponse, extend_schema
from rest_framework import serializers
from rest_framework.parsers import MultiPartParser
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.attachments import attach, edit_caption, put_back, remove
from shop.api.describe import MOVING, READING, answers, problems
from shop.api.paper import PDFRenderer
from shop.api.shapes import shape
from shop.api.views import ShopView, created, one
from shop.domain.attachments import CAPTION, REMOVAL_REASON, FileType, Subject, read_in
from shop.selectors.attachment_files import headers_of, pieces_of
from shop.selectors.attachments import (
    AttachmentRow,
    attachment,
    attachment_file,
    attachments_of,
)

TAG = ["photos and documents"]
_SUBJECTS = [subject.value for subject in Subject]


class AboutQuery(serializers.Serializer[Any]):
    """What the photos and documents belong to."""

    about = serializers.ChoiceField(choices=_SUBJECTS)
    about_id = serializers.IntegerField(min_value=1)


class AttachmentBody(AboutQuery):
    """A photo (JPEG, PNG, WebP, HEIC) or a PDF, sent as multipart/form-data."""

    # Empty files and odd names are refused by the shop, in words.
    file = serializers.FileField(allow_empty_file=True, max_length=None)
    caption = serializers.CharField(
        required=False, allow_blank=True, max_length=CAPTION.longest
    )


class CaptionBody(serializers.Serializer[Any]):
    """What a photo or document shows."""

    caption = serializers.CharField(allow_blank=True, max_length=CAPTION.longest)


class RemovalBody(serializers.Serializer[Any]):
    """Why a photo or document is taken away."""

    reason = serializers.CharField(max_length=REMOVAL_REASON.longest)


class JPEGRenderer(PDFRenderer):
    """Hands a photo through; a problem stays JSON."""

    media_type = FileType.JPEG.value
    format = "jpeg"


class AttachmentsView(ShopView):
    parser_classes = [MultiPartParser]

    @extend_schema(
        operation_id="attachments_list",
        summary="The photos and documents of one thing, the newest first",
        tags=TAG,
        parameters=[AboutQuery],
        responses={200: shape(AttachmentRow)(many=True), **problems((400, *READING))},
    )
    def get(self, request: Request) -> Response:
        wanted = self.query(AboutQuery)
        rows = attachments_of(
            subject=Subject(wanted["about"]),
            subject_id=wanted["about_id"],
            viewer=self.viewer,
        )
        return Response(shape(AttachmentRow)(rows, many=True).data)

    @extend_schema(
        operation_id="attachments_add",
        summary="Add a photo or document",
        description=(
            "A photo is turned upright, and what it says about place is removed. "
            "The same file sent again is answered with what is there already."
        ),
        tags=TAG,
        request={"multipart/form-data": AttachmentBody},
        responses=answers(AttachmentRow, status=201, of=MOVING),
    )
    def post(self, request: Request) -> Response:
        body = self.body(AttachmentBody)
        row = attach(
            subject=Subject(body["about"]),
            subject_id=body["about_id"],
            content=read_in(body["file"]),
            caption=body.get("caption", ""),
            acting_user=self.person,
            at=self.now,
        )
        return created(attachment(attachment_id=row.pk, viewer=self.viewer))


class AttachmentView(ShopView):
    @extend_schema(
        operation_id="attachments_read",
        summary="A photo or document",
        tags=TAG,
        responses=answers(AttachmentRow, of=READING),
    )
    def get(self, request: Request, attachment_id: int) -> Response:
        return one(attachment(attachment_id=attachment_id, viewer=self.viewer))

    @extend_schema(
        operation_id="attachments_edit",
        summary="Say what a photo or document shows",
        tags=TAG,
        request=CaptionBody,
        examples=[
            OpenApiExample(
                "A caption", {"caption": "Loom at the headstock"}, request_only=True
            )
        ],
        responses=answers(AttachmentRow, of=MOVING),
    )
    def patch(self, request: Request, attachment_id: int) -> Response:
        edit_caption(
            attachment_id=attachment_id,
            caption=self.body(CaptionBody)["caption"],
            acting_user=self.person,
            at=self.now,
        )
        return one(attachment(attachment_id=attachment_id, viewer=self.viewer))


class AttachmentRemoveView(ShopView):
    @extend_schema(
        operation_id="attachments_remove",
        summary="Take a photo or document away, with the reason",
        tags=TAG,
        request=RemovalBody,
        examples=[
            OpenApiExample("A reason", {"reason": "Wrong bike"}, request_only=True)
        ],
        responses=answers(AttachmentRow, of=MOVING),
    )
    def post(self, request: Request, attachment_id: int) -> Response:
        remove(
            attachment_id=attachment_id,
            reason=self.body(RemovalBody)["reason"],
            acting_user=self.person,
            at=self.now,
        )
        return one(attachment(attachment_id=attachment_id, viewer=self.viewer))


class AttachmentPutBackView(ShopView):
    @extend_schema(
        operation_id="attachments_put_back",
        summary="Put back what was taken away",
        tags=TAG,
        request=None,
        responses=answers(AttachmentRow, of=MOVING),
    )
    def post(self, request: Request, attachment_id: int) -> Response:
        put_back(attachment_id=attachment_id, acting_user=self.person, at=self.now)
        return one(attachment(attachment_id=attachment_id, viewer=self.viewer))


class AttachmentFileView(ShopView):
    renderer_classes = [JPEGRenderer, PDFRenderer, JSONRenderer]

    @extend_schema(
        operation_id="attachments_file",
        summary="The file of a photo or document",
        tags=TAG,
        responses={
            (200, FileType.JPEG.value): OpenApiResponse(
                OpenApiTypes.BINARY, "A photo."
            ),
            (200, FileType.PDF.value): OpenApiResponse(OpenApiTypes.BINARY, "PDF."),
            **problems(READING),
        },
    )
    def get(self, request: Request, attachment_id: int) -> HttpResponseBase:
        found = attachment_file(attachment_id=attachment_id, viewer=self.viewer)
        return StreamingHttpResponse(
            pieces_of(found.file_name),
            content_type=found.content_type,
            headers=headers_of(found, disposition="attachment"),
        )
