"""A customer's further contacts over the API."""

from typing import Any

from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.contacts import add_contact, edit_contact, retire_contact
from shop.api.describe import MOVING, READING, WRITING, answers
from shop.api.views import ShopView, created, one
from shop.domain.contacts import WAY_LABELS, ContactDetails
from shop.models.columns import choices
from shop.selectors.contacts import ContactRow, contact, contact_row

TAG = ["contacts"]
EXAMPLE = OpenApiExample(
    "A contact",
    {"name": "Jo Fenn", "relation": "daughter", "phone": "0555 010 201"},
    request_only=True,
)


class ContactBody(serializers.Serializer[Any]):
    """What can be entered about a contact."""

    name = serializers.CharField(max_length=120)
    relation = serializers.CharField(max_length=80, required=False, allow_blank=True)
    phone = serializers.CharField(max_length=40, required=False, allow_blank=True)
    email = serializers.CharField(max_length=254, required=False, allow_blank=True)
    preferred = serializers.ChoiceField(choices=choices(WAY_LABELS), required=False)
    notes = serializers.CharField(max_length=1000, required=False, allow_blank=True)


class CustomerContactsView(ShopView):
    @extend_schema(
        operation_id="contacts_add",
        summary="Write down a further way to reach a customer",
        tags=TAG,
        request=ContactBody,
        examples=[EXAMPLE],
        responses=answers(ContactRow, status=201, of=WRITING),
    )
    def post(self, request: Request, customer_id: int) -> Response:
        row = add_contact(
            customer_id=customer_id,
            details=ContactDetails(**self.body(ContactBody)),
            acting_user=self.person,
            at=self.now,
        )
        return created(contact_row(row))


class ContactView(ShopView):
    @extend_schema(
        operation_id="contacts_read",
        summary="A contact",
        tags=TAG,
        responses=answers(ContactRow, of=READING),
    )
    def get(self, request: Request, contact_id: int) -> Response:
        return one(contact(contact_id=contact_id, viewer=self.viewer))

    @extend_schema(
        operation_id="contacts_edit",
        summary="Correct some of a contact's details",
        tags=TAG,
        request=ContactBody,
        examples=[EXAMPLE],
        responses=answers(ContactRow, of=WRITING),
    )
    def patch(self, request: Request, contact_id: int) -> Response:
        row = edit_contact(
            contact_id=contact_id,
            changes=self.changes(ContactBody),
            acting_user=self.person,
            at=self.now,
        )
        return one(contact_row(row))


class ContactRetireView(ShopView):
    @extend_schema(
        operation_id="contacts_retire",
        summary="Take a contact out of use",
        tags=TAG,
        request=None,
        responses=answers(ContactRow, of=MOVING),
    )
    def post(self, request: Request, contact_id: int) -> Response:
        row = retire_contact(
            contact_id=contact_id, acting_user=self.person, at=self.now
        )
        return one(contact_row(row))
