"""Customers over the API."""

from typing import Any

from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.customers import add_customer, edit_customer
from shop.api.describe import READING, WRITING, answers, answers_page
from shop.api.views import ShopView, WindowQuery, created, one, page
from shop.domain.customers import CustomerDetails
from shop.selectors.customers import (
    CustomerPage,
    CustomerRow,
    customer_list,
    customer_page,
    customer_row,
)

TAG = ["customers"]
EXAMPLE = OpenApiExample(
    "A customer",
    {"name": "Ada Fenn", "phone": "0555 010 200", "email": "ada.fenn@example.org"},
    request_only=True,
)


class CustomerBody(serializers.Serializer[Any]):
    """What can be entered about a customer."""

    name = serializers.CharField(max_length=120)
    address = serializers.CharField(max_length=500, required=False, allow_blank=True)
    phone = serializers.CharField(max_length=40, required=False, allow_blank=True)
    email = serializers.CharField(max_length=254, required=False, allow_blank=True)
    tax_number = serializers.CharField(max_length=40, required=False, allow_blank=True)
    notes = serializers.CharField(max_length=5000, required=False, allow_blank=True)


class CustomerQuery(WindowQuery):
    """Which customers are wanted."""

    q = serializers.CharField(
        required=False, allow_blank=True, help_text="Words that all must be found."
    )


class CustomersView(ShopView):
    @extend_schema(
        operation_id="customers_list",
        summary="Customers, by name",
        tags=TAG,
        parameters=[CustomerQuery],
        responses=answers_page(CustomerRow),
    )
    def get(self, request: Request) -> Response:
        found = customer_list(
            viewer=self.viewer,
            search=self.query(CustomerQuery).get("q", ""),
            window=self.window(),
        )
        return page(request, found, CustomerRow)

    @extend_schema(
        operation_id="customers_add",
        summary="Take on a customer",
        tags=TAG,
        request=CustomerBody,
        examples=[EXAMPLE],
        responses=answers(CustomerRow, status=201, of=WRITING),
    )
    def post(self, request: Request) -> Response:
        customer = add_customer(
            details=CustomerDetails(**self.body(CustomerBody)),
            acting_user=self.person,
            at=self.now,
        )
        return created(customer_row(customer))


class CustomerView(ShopView):
    @extend_schema(
        operation_id="customers_read",
        summary="A customer, their bikes and work orders",
        tags=TAG,
        responses=answers(CustomerPage, of=READING),
    )
    def get(self, request: Request, customer_id: int) -> Response:
        return one(customer_page(customer_id=customer_id, viewer=self.viewer))

    @extend_schema(
        operation_id="customers_edit",
        summary="Correct some of a customer's details",
        tags=TAG,
        request=CustomerBody,
        examples=[EXAMPLE],
        responses=answers(CustomerRow, of=WRITING),
    )
    def patch(self, request: Request, customer_id: int) -> Response:
        customer = edit_customer(
            customer_id=customer_id,
            changes=self.changes(CustomerBody),
            acting_user=self.person,
            at=self.now,
        )
        return one(customer_row(customer))
