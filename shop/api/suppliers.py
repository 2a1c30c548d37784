"""Suppliers over the API."""

from typing import Any

from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.suppliers import add_supplier, edit_supplier
from shop.api.describe import READING, WRITING, answers, answers_page
from shop.api.fields import optional_text
from shop.api.views import ShopView, WindowQuery, created, one, page
from shop.domain.suppliers import LONGEST_LEAD_DAYS, TRADE_LABELS, SupplierDetails
from shop.models.columns import choices
from shop.selectors.suppliers import (
    SupplierRow,
    supplier_list,
    supplier_page,
    supplier_row,
)

TAG = ["suppliers"]
TRADES = choices(TRADE_LABELS)
EXAMPLE = OpenApiExample(
    "A plater",
    {"name": "Oxbow Platers", "trades": ["plating"], "lead_days": 21},
    request_only=True,
)


class SupplierBody(serializers.Serializer[Any]):
    """What can be entered about a supplier."""

    name = serializers.CharField(max_length=120)
    contact = optional_text(120)
    phone = optional_text(40)
    email = optional_text(254)
    address = optional_text(500)
    trades = serializers.ListField(
        child=serializers.ChoiceField(choices=TRADES), required=False
    )
    lead_days = serializers.IntegerField(
        min_value=0, max_value=LONGEST_LEAD_DAYS, required=False, allow_null=True
    )
    markup_percent = serializers.DecimalField(
        max_digits=6, decimal_places=2, required=False
    )
    notes = optional_text(5000)
    is_retired = serializers.BooleanField(required=False)

    def validate_trades(self, trades: list[str]) -> tuple[str, ...]:
        """Return the trades as the details keep them."""
        return tuple(trades)


class SupplierQuery(WindowQuery):
    """Which suppliers are wanted."""

    q = serializers.CharField(
        required=False, allow_blank=True, help_text="Words that all must be found."
    )
    retired_too = serializers.BooleanField(required=False, default=False)


class SuppliersView(ShopView):
    @extend_schema(
        operation_id="suppliers_list",
        summary="Suppliers, by name",
        tags=TAG,
        parameters=[SupplierQuery],
        responses=answers_page(SupplierRow),
    )
    def get(self, request: Request) -> Response:
        asked = self.query(SupplierQuery)
        found = supplier_list(
            viewer=self.viewer,
            search=asked.get("q", ""),
            retired_too=asked["retired_too"],
            window=self.window(),
        )
        return page(request, found, SupplierRow)

    @extend_schema(
        operation_id="suppliers_add",
        summary="Write down a supplier",
        tags=TAG,
        request=SupplierBody,
        examples=[EXAMPLE],
        responses=answers(SupplierRow, status=201, of=WRITING),
    )
    def post(self, request: Request) -> Response:
        supplier = add_supplier(
            details=SupplierDetails(**self.body(SupplierBody)),
            acting_user=self.person,
            at=self.now,
        )
        return created(supplier_row(supplier))


class SupplierView(ShopView):
    @extend_schema(
        operation_id="suppliers_read",
        summary="A supplier",
        tags=TAG,
        responses=answers(SupplierRow, of=READING),
    )
    def get(self, request: Request, supplier_id: int) -> Response:
        return one(supplier_page(supplier_id=supplier_id, viewer=self.viewer))

    @extend_schema(
        operation_id="suppliers_edit",
        summary="Correct some of a supplier's details",
        tags=TAG,
        request=SupplierBody,
        examples=[EXAMPLE],
        responses=answers(SupplierRow, of=WRITING),
    )
    def patch(self, request: Request, supplier_id: int) -> Response:
        supplier = edit_supplier(
            supplier_id=supplier_id,
            changes=self.changes(SupplierBody),
            acting_user=self.person,
            at=self.now,
        )
        return one(supplier_row(supplier))
