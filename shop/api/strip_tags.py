"""Strip tags over the API: tagged, found, corrected, decided on, moved."""

from typing import Any

from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.strip_tags import (
    Handling,
    add_strip_tag,
    decide_fate,
    edit_strip_tag,
    move_strip_tags,
)
from shop.api.describe import MOVING, READING, answers, answers_page
from shop.api.fields import optional_text
from shop.api.views import ShopView, WindowQuery, created, one, page
from shop.domain.strip_tags import (
    MOST_PIECES,
    TAG_CONDITION_LABELS,
    TAG_EVENT_LABELS,
    TAG_FATE_LABELS,
    TAG_STATE_LABELS,
    Consent,
    TagDetails,
    TagEvent,
    TagState,
)
from shop.models.columns import choices
from shop.selectors.strip_tags import (
    StripTagFilter,
    StripTagRow,
    StripTagsOfOrder,
    strip_tag_list,
    strip_tag_page,
    strip_tags_of,
    tag_id_of,
)

TAG = ["strip tags"]
CONDITIONS = choices(TAG_CONDITION_LABELS)


class TagChanges(serializers.Serializer[Any]):
    """What stands on a tag."""

    name = serializers.CharField(max_length=120)
    place = optional_text(120, "Where it sits on the bike.")
    pieces = serializers.IntegerField(
        min_value=1, max_value=MOST_PIECES, required=False
    )
    condition = serializers.ChoiceField(choices=CONDITIONS, required=False)
    condition_note = optional_text(500)
    shelf = optional_text(40)


class FateBody(serializers.Serializer[Any]):
    """What becomes of it; to scrap it, the name of who agreed is needed."""

    fate = serializers.ChoiceField(choices=choices(TAG_FATE_LABELS))
    consent_by_name = optional_text(120)
    consent_how = optional_text(120)


class TagBody(TagChanges):
    """A part or bag that has come off, and what becomes of it."""

    fate = serializers.ChoiceField(choices=choices(TAG_FATE_LABELS), required=False)
    consent_by_name = optional_text(120)
    consent_how = optional_text(120)


class TagMoveBody(serializers.Serializer[Any]):
    """What happens to it."""

    event = serializers.ChoiceField(choices=choices(TAG_EVENT_LABELS))
    shelf = optional_text(40, "Where it lies from now on.")
    reason = optional_text(200)


class TagQuery(WindowQuery):
    """Which tags are wanted."""

    q = optional_text(200, "Words that all must be found; T-1001-9 finds by number.")
    code = optional_text(20, "One tag by its whole number, check digit included.")
    state = serializers.ChoiceField(choices=choices(TAG_STATE_LABELS), required=False)
    unsettled = serializers.BooleanField(
        required=False, default=False, help_text="Only those not accounted for."
    )
    bike = serializers.IntegerField(required=False, min_value=1)


class StripTagsView(ShopView):
    @extend_schema(
        operation_id="strip_tags_list",
        summary="What is where, the newest tag first",
        tags=TAG,
        parameters=[TagQuery],
        responses=answers_page(StripTagRow),
    )
    def get(self, request: Request) -> Response:
        asked = self.query(TagQuery)
        search = asked.get("q", "")
        if code := asked.get("code", ""):
            tag_id = tag_id_of(code=code, viewer=self.viewer)
            search = strip_tag_page(tag_id=tag_id, viewer=self.viewer).label
        wanted = StripTagFilter(
            search=search,
            state=TagState(asked["state"]) if "state" in asked else None,
            unsettled_only=asked["unsettled"],
            bike_id=asked.get("bike"),
        )
        found = strip_tag_list(viewer=self.viewer, wanted=wanted, window=self.window())
        return page(request, found, StripTagRow)


class WorkOrderTagsView(ShopView):
    @extend_schema(
        operation_id="work_orders_strip_tags",
        summary="All tags of a work order",
        tags=TAG,
        responses=answers(StripTagsOfOrder, of=READING),
    )
    def get(self, request: Request, work_order_id: int) -> Response:
        return one(strip_tags_of(work_order_id=work_order_id, viewer=self.viewer))

    @extend_schema(
        operation_id="strip_tags_add",
        summary="Tag a part or bag that has come off",
        tags=TAG,
        request=TagBody,
        examples=[
            OpenApiExample(
                "A wheel",
                {"name": "Rear wheel", "place": "Rear", "shelf": "B3"},
                request_only=True,
            )
        ],
        responses=answers(StripTagRow, status=201, of=MOVING),
    )
    def post(self, request: Request, work_order_id: int) -> Response:
        body = dict(self.body(TagBody))
        consent = _consent(body)
        tag = add_strip_tag(
            work_order_id=work_order_id,
            fate=body.pop("fate", "refit"),
            details=TagDetails(**body),
            consent=consent,
            acting_user=self.person,
            at=self.now,
        )
        return created(strip_tag_page(tag_id=tag.pk, viewer=self.viewer))


class StripTagView(ShopView):
    @extend_schema(
        operation_id="strip_tags_read",
        summary="A tag",
        tags=TAG,
        responses=answers(StripTagRow, of=READING),
    )
    def get(self, request: Request, strip_tag_id: int) -> Response:
        return one(strip_tag_page(tag_id=strip_tag_id, viewer=self.viewer))

    @extend_schema(
        operation_id="strip_tags_edit",
        summary="Correct what stands on a tag, its shelf too",
        tags=TAG,
        request=TagChanges,
        examples=[OpenApiExample("A shelf", {"shelf": "C1"}, request_only=True)],
        responses=answers(StripTagRow, of=MOVING),
    )
    def patch(self, request: Request, strip_tag_id: int) -> Response:
        edit_strip_tag(
            tag_id=strip_tag_id,
            changes=self.changes(TagChanges),
            acting_user=self.person,
            at=self.now,
        )
        return one(strip_tag_page(tag_id=strip_tag_id, viewer=self.viewer))


class StripTagFateView(ShopView):
    @extend_schema(
        operation_id="strip_tags_decide",
        summary="Decide what becomes of it",
        tags=TAG,
        request=FateBody,
        examples=[
            OpenApiExample(
                "Scrap",
                {"fate": "scrap", "consent_by_name": "Ada Fenn"},
                request_only=True,
            )
        ],
        responses=answers(StripTagRow, of=MOVING),
    )
    def post(self, request: Request, strip_tag_id: int) -> Response:
        body = dict(self.body(FateBody))
        decide_fate(
            tag_id=strip_tag_id,
            fate=body["fate"],
            consent=_consent(body),
            acting_user=self.person,
            at=self.now,
        )
        return one(strip_tag_page(tag_id=strip_tag_id, viewer=self.viewer))


class StripTagMoveView(ShopView):
    @extend_schema(
        operation_id="strip_tags_move",
        summary="Fit it, give it back, scrap it, or take it off again",
        tags=TAG,
        request=TagMoveBody,
        examples=[OpenApiExample("Fit it", {"event": "fit"}, request_only=True)],
        responses=answers(StripTagRow, of=MOVING),
    )
    def post(self, request: Request, strip_tag_id: int) -> Response:
        body = dict(self.body(TagMoveBody))
        move_strip_tags(
            tag_ids=[strip_tag_id],
            event=TagEvent(body.pop("event")),
            handling=Handling(**body),
            acting_user=self.person,
            at=self.now,
        )
        return one(strip_tag_page(tag_id=strip_tag_id, viewer=self.viewer))


def _consent(body: dict[str, Any]) -> Consent:
    return Consent(
        by_name=body.pop("consent_by_name", ""), how=body.pop("consent_how", "")
    )
