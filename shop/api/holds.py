"""Holds, advisories and the final check over the API."""

from typing import Any

from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.advisories import decline_advisory, note_advisory, tell_advisory
from shop.actions.check_lists import answer_check
from shop.actions.holds import place_hold, release_hold
from shop.api.describe import MOVING, answers
from shop.api.views import ShopView, created, one
from shop.domain.advisories import URGENCY_LABELS, AdvisoryDetails
from shop.domain.check_lists import ANSWER_LABELS, Answer
from shop.domain.holds import HOLD_LABELS, HoldDetails
from shop.models.columns import choices
from shop.selectors.advisories import AdvisoryRow, advisory
from shop.selectors.check_lists import CheckItemRow, check_item
from shop.selectors.holds import HoldRow, hold

TAG = ["work orders"]
HOLD_KINDS = choices(HOLD_LABELS)
CHECK_ANSWERS = choices(ANSWER_LABELS)


class HoldBody(serializers.Serializer[Any]):
    """What is waited for; without a task the whole bike waits."""

    kind = serializers.ChoiceField(choices=HOLD_KINDS)
    detail = serializers.CharField(max_length=200)
    expected_on = serializers.DateField(required=False, allow_null=True)
    task_id = serializers.IntegerField(required=False, allow_null=True, min_value=1)


class ReleaseBody(serializers.Serializer[Any]):
    """What came."""

    note = serializers.CharField(max_length=200, required=False, allow_blank=True)


class AdvisoryBody(serializers.Serializer[Any]):
    """Something noticed in passing."""

    what = serializers.CharField(max_length=400)
    place = serializers.CharField(max_length=120, help_text="Where on the bike.")
    urgency = serializers.ChoiceField(choices=choices(URGENCY_LABELS))


class ToldBody(serializers.Serializer[Any]):
    """How the customer was told."""

    how = serializers.CharField(max_length=120)


class DeclineBody(serializers.Serializer[Any]):
    """Why it is left as it is."""

    reason = serializers.CharField(max_length=200)


class AnswerBody(serializers.Serializer[Any]):
    """What was found at a point of the final check."""

    answer = serializers.ChoiceField(choices=CHECK_ANSWERS)
    note = serializers.CharField(max_length=300, required=False, allow_blank=True)
    seen_answer = serializers.ChoiceField(choices=CHECK_ANSWERS, required=False)


class WorkOrderHoldsView(ShopView):
    @extend_schema(
        operation_id="holds_place",
        summary="Put a bike or one of its tasks on hold",
        tags=TAG,
        request=HoldBody,
        examples=[
            OpenApiExample(
                "Parts on order",
                {"kind": "parts", "detail": "Spokes for the rear wheel"},
                request_only=True,
            )
        ],
        responses=answers(HoldRow, status=201, of=MOVING),
    )
    def post(self, request: Request, work_order_id: int) -> Response:
        made = place_hold(
            work_order_id=work_order_id,
            details=HoldDetails(**self.body(HoldBody)),
            acting_user=self.person,
            at=self.now,
        )
        return created(hold(hold_id=made.pk, viewer=self.viewer))


class HoldReleaseView(ShopView):
    @extend_schema(
        operation_id="holds_release",
        summary="Say that what was waited for has come",
        tags=TAG,
        request=ReleaseBody,
        responses=answers(HoldRow, of=MOVING),
    )
    def post(self, request: Request, hold_id: int) -> Response:
        release_hold(
            hold_id=hold_id,
            note=self.body(ReleaseBody).get("note", ""),
            acting_user=self.person,
            at=self.now,
        )
        return one(hold(hold_id=hold_id, viewer=self.viewer))


class WorkOrderAdvisoriesView(ShopView):
    @extend_schema(
        operation_id="advisories_note",
        summary="Write down what was noticed in passing",
        tags=TAG,
        request=AdvisoryBody,
        responses=answers(AdvisoryRow, status=201, of=MOVING),
    )
    def post(self, request: Request, work_order_id: int) -> Response:
        made = note_advisory(
            work_order_id=work_order_id,
            details=AdvisoryDetails(**self.body(AdvisoryBody)),
            acting_user=self.person,
            at=self.now,
        )
        return created(advisory(advisory_id=made.pk, viewer=self.viewer))


class AdvisoryToldView(ShopView):
    @extend_schema(
        operation_id="advisories_tell",
        summary="Write down that the customer has been told",
        tags=TAG,
        request=ToldBody,
        responses=answers(AdvisoryRow, of=MOVING),
    )
    def post(self, request: Request, advisory_id: int) -> Response:
        tell_advisory(
            advisory_id=advisory_id,
            how=self.body(ToldBody)["how"],
            acting_user=self.person,
            at=self.now,
        )
        return one(advisory(advisory_id=advisory_id, viewer=self.viewer))


class AdvisoryDeclineView(ShopView):
    @extend_schema(
        operation_id="advisories_decline",
        summary="Write down that it is left as it is",
        tags=TAG,
        request=DeclineBody,
        responses=answers(AdvisoryRow, of=MOVING),
    )
    def post(self, request: Request, advisory_id: int) -> Response:
        decline_advisory(
            advisory_id=advisory_id,
            reason=self.body(DeclineBody)["reason"],
            acting_user=self.person,
            at=self.now,
        )
        return one(advisory(advisory_id=advisory_id, viewer=self.viewer))


class CheckItemAnswerView(ShopView):
    @extend_schema(
        operation_id="check_items_answer",
        summary="Answer a point of the final check",
        tags=TAG,
        request=AnswerBody,
        responses=answers(CheckItemRow, of=MOVING),
    )
    def post(self, request: Request, item_id: int) -> Response:
        body = self.body(AnswerBody)
        seen = body.get("seen_answer")
        answer_check(
            item_id=item_id,
            answer=Answer(body["answer"]),
            note=body.get("note", ""),
            seen_answer=Answer(seen) if seen else None,
            acting_user=self.person,
            at=self.now,
        )
        return one(check_item(item_id=item_id, viewer=self.viewer))
