"""Outside work over the API: planned, sent, booked back, dropped."""

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.outside_work import (
    Dispatch,
    book_back,
    drop_outside_work,
    edit_outside_work,
    plan_outside_work,
    send_again,
    send_outside_work,
)
from shop.api.describe import MOVING, READING, answers, answers_page
from shop.api.fields import optional_amount
from shop.api.views import ShopView, WindowQuery, created, one, page
from shop.domain.outside_work import (
    CHECK_RESULT_LABELS,
    OUTSIDE_STATE_LABELS,
    OutsideDetails,
    OutsideState,
    TagCheck,
)
from shop.domain.suppliers import TRADE_LABELS
from shop.models.columns import choices
from shop.selectors.outside_work import (
    OutsideFilter,
    OutsidePage,
    OutsideRow,
    outside_list,
    outside_page,
)

TAG = ["outside work"]


class OutsideChanges(serializers.Serializer[Any]):
    """What can be entered about outside work."""

    supplier_id = serializers.IntegerField(min_value=1)
    trade = serializers.ChoiceField(choices=choices(TRADE_LABELS))
    description = serializers.CharField(
        max_length=200, help_text="In words that the customer reads."
    )
    promised_on = serializers.DateField(required=False, allow_null=True)
    quote_amount = optional_amount("What the supplier asks, without tax.")
    cost_amount = optional_amount("What the supplier's bill says, without tax.")
    markup_percent = serializers.DecimalField(
        max_digits=6, decimal_places=2, required=False
    )
    notes = serializers.CharField(max_length=5000, required=False, allow_blank=True)


class OutsideBody(OutsideChanges):
    """Outside work with the tags that will go."""

    tag_ids = serializers.ListField(
        child=serializers.IntegerField(min_value=1), required=False, max_length=200
    )
    tax_rate_id = serializers.IntegerField(
        required=False,
        allow_null=True,
        min_value=1,
        help_text="The shop's default rate unless said.",
    )


class SendBody(serializers.Serializer[Any]):
    """When it leaves and when it is promised back."""

    sent_on = serializers.DateField(
        required=False, allow_null=True, help_text="Today unless said."
    )
    promised_on = serializers.DateField(required=False, allow_null=True)


class AgainBody(SendBody):
    """Why it goes again, and with which tags."""

    reason = serializers.CharField(max_length=200)
    tag_ids = serializers.ListField(
        child=serializers.IntegerField(min_value=1), required=False, max_length=200
    )


class CheckBody(serializers.Serializer[Any]):
    """What is said of one tag."""

    tag_id = serializers.IntegerField(min_value=1)
    result = serializers.ChoiceField(choices=choices(CHECK_RESULT_LABELS))
    note = serializers.CharField(max_length=200, required=False, allow_blank=True)
    shelf = serializers.CharField(max_length=40, required=False, allow_blank=True)
    consent_by_name = serializers.CharField(
        max_length=120, required=False, allow_blank=True
    )


class BackBody(serializers.Serializer[Any]):
    """The check of every tag that is away."""

    checks = CheckBody(many=True)


class DropBody(serializers.Serializer[Any]):
    """Why it is dropped."""

    reason = serializers.CharField(max_length=200)


class OutsideQuery(WindowQuery):
    """Which outside work is wanted."""

    q = serializers.CharField(
        required=False, allow_blank=True, help_text="Words that all must be found."
    )
    state = serializers.ChoiceField(
        choices=choices(OUTSIDE_STATE_LABELS), required=False
    )
    supplier = serializers.IntegerField(required=False, min_value=1)
    overdue = serializers.BooleanField(required=False, default=False)


class OutsideView(ShopView):
    """What the views of outside work share."""

    def answer(self, outside_work_id: int) -> OutsidePage:
        """Return the page of one piece of outside work."""
        return outside_page(
            outside_work_id=outside_work_id,
            viewer=self.viewer,
            today=timezone.localdate(),
        )


class OutsideWorksView(OutsideView):
    @extend_schema(
        operation_id="outside_work_list",
        summary="Outside work, what is due soonest first",
        tags=TAG,
        parameters=[OutsideQuery],
        responses=answers_page(OutsideRow),
    )
    def get(self, request: Request) -> Response:
        asked = self.query(OutsideQuery)
        wanted = OutsideFilter(
            search=asked.get("q", ""),
            state=OutsideState(asked["state"]) if "state" in asked else None,
            supplier_id=asked.get("supplier"),
            overdue_only=asked["overdue"],
        )
        found = outside_list(
            viewer=self.viewer,
            today=timezone.localdate(),
            wanted=wanted,
            window=self.window(),
        )
        return page(request, found, OutsideRow)


class WorkOrderOutsideView(OutsideView):
    @extend_schema(
        operation_id="outside_work_plan",
        summary="Plan outside work for an open work order",
        tags=TAG,
        request=OutsideBody,
        examples=[
            OpenApiExample(
                "Plating",
                {
                    "supplier_id": 1,
                    "trade": "plating",
                    "description": "Rims chromed",
                    "quote_amount": "80.00",
                },
                request_only=True,
            )
        ],
        responses=answers(OutsidePage, status=201, of=MOVING),
    )
    def post(self, request: Request, work_order_id: int) -> Response:
        body = dict(self.body(OutsideBody))
        work = plan_outside_work(
            work_order_id=work_order_id,
            tag_ids=body.pop("tag_ids", ()),
            tax_rate_id=body.pop("tax_rate_id", None),
            details=OutsideDetails(**body),
            acting_user=self.person,
            at=self.now,
        )
        return created(self.answer(work.pk))


class OutsideWorkView(OutsideView):
    @extend_schema(
        operation_id="outside_work_read",
        summary="A piece of outside work with its tags",
        tags=TAG,
        responses=answers(OutsidePage, of=READING),
    )
    def get(self, request: Request, outside_work_id: int) -> Response:
        return one(self.answer(outside_work_id))

    @extend_schema(
        operation_id="outside_work_edit",
        summary="Correct words, days and amounts",
        tags=TAG,
        request=OutsideChanges,
        examples=[
            OpenApiExample("The bill", {"cost_amount": "86.50"}, request_only=True)
        ],
        responses=answers(OutsidePage, of=MOVING),
    )
    def patch(self, request: Request, outside_work_id: int) -> Response:
        edit_outside_work(
            outside_work_id=outside_work_id,
            changes=self.changes(OutsideChanges),
            acting_user=self.person,
            at=self.now,
        )
        return one(self.answer(outside_work_id))


class OutsideSendView(OutsideView):
    @extend_schema(
        operation_id="outside_work_send",
        summary="Send it out with its tags",
        tags=TAG,
        request=SendBody,
        responses=answers(OutsidePage, of=MOVING),
    )
    def post(self, request: Request, outside_work_id: int) -> Response:
        send_outside_work(
            outside_work_id=outside_work_id,
            dispatch=Dispatch(**self.body(SendBody)),
            acting_user=self.person,
            at=self.now,
        )
        return one(self.answer(outside_work_id))


class OutsideAgainView(OutsideView):
    @extend_schema(
        operation_id="outside_work_send_again",
        summary="Send it again, since it was not good",
        tags=TAG,
        request=AgainBody,
        responses=answers(OutsidePage, of=MOVING),
    )
    def post(self, request: Request, outside_work_id: int) -> Response:
        body = dict(self.body(AgainBody))
        send_again(
            outside_work_id=outside_work_id,
            reason=body.pop("reason"),
            tag_ids=body.pop("tag_ids", ()),
            dispatch=Dispatch(**body),
            acting_user=self.person,
            at=self.now,
        )
        return one(self.answer(outside_work_id))


class OutsideBackView(OutsideView):
    @extend_schema(
        operation_id="outside_work_book_back",
        summary="Book back what has come, with the check of each tag",
        tags=TAG,
        request=BackBody,
        examples=[
            OpenApiExample(
                "Good", {"checks": [{"tag_id": 1, "result": "good"}]}, request_only=True
            )
        ],
        responses=answers(OutsidePage, of=MOVING),
    )
    def post(self, request: Request, outside_work_id: int) -> Response:
        body = self.body(BackBody)
        book_back(
            outside_work_id=outside_work_id,
            checks=[TagCheck(**check) for check in body["checks"]],
            acting_user=self.person,
            at=self.now,
        )
        return one(self.answer(outside_work_id))


class OutsideDropView(OutsideView):
    @extend_schema(
        operation_id="outside_work_drop",
        summary="Drop work that has not left",
        tags=TAG,
        request=DropBody,
        examples=[OpenApiExample("Why", {"reason": "too dear"}, request_only=True)],
        responses=answers(OutsidePage, of=MOVING),
    )
    def post(self, request: Request, outside_work_id: int) -> Response:
        drop_outside_work(
            outside_work_id=outside_work_id,
            reason=self.body(DropBody)["reason"],
            acting_user=self.person,
            at=self.now,
        )
        return one(self.answer(outside_work_id))
