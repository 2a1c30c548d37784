"""Part lines: what went on the bike, with frozen copies of the parts list."""

from django.db import models
from typing_extensions import override

from shop.domain.parts import CONDITION_LABELS, UNIT_LABELS, PartCondition, PartUnit
from shop.models.columns import (
    MONEY_DIGITS,
    MONEY_PLACES,
    at_least,
    choices,
    one_of,
    row_id,
)
from shop.models.parts import Part
from shop.models.people import User
from shop.models.voiding import Voidable, void_is_whole
from shop.models.work_orders import WorkOrder


class PartLineQuerySet(models.QuerySet["PartLine"]):
    """Part lines, narrowed."""

    def standing(self) -> "PartLineQuerySet":
        """Keep those that count."""
        return self.filter(voided_at__isnull=True)

    def of_work_order(self, work_order_id: int) -> "PartLineQuerySet":
        """Keep those of one work order, in the order they were added."""
        return self.filter(work_order_id=row_id(work_order_id)).order_by(
            "created_at", "pk"
        )


class PartLine(Voidable):
    """A part on a work order; voided with a reason, never edited or deleted."""

    work_order = models.ForeignKey(
        WorkOrder, on_delete=models.PROTECT, related_name="part_lines"
    )
    part = models.ForeignKey(Part, on_delete=models.PROTECT, related_name="lines")
    number = models.CharField(max_length=60)
    description = models.CharField(max_length=200)
    condition = models.CharField(max_length=20, choices=choices(CONDITION_LABELS))
    unit = models.CharField(max_length=10, choices=choices(UNIT_LABELS))
    quantity = models.DecimalField(max_digits=9, decimal_places=3)
    price = models.DecimalField(max_digits=MONEY_DIGITS, decimal_places=MONEY_PLACES)
    tax_label = models.CharField(max_length=60)
    tax_percent = models.DecimalField(max_digits=6, decimal_places=3)
    added_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    created_at = models.DateTimeField()

    objects = models.Manager.from_queryset(PartLineQuerySet)()

    class Meta:
        constraints = [
            one_of("condition", PartCondition, name="part_line_condition_known"),
            one_of("unit", PartUnit, name="part_line_unit_known"),
            models.CheckConstraint(
                condition=models.Q(quantity__gt=0), name="part_line_quantity_positive"
            ),
            at_least("price", 0, name="part_line_price_not_negative"),
            at_least("tax_percent", 0, name="part_line_tax_not_negative"),
            void_is_whole("part_line_void_is_whole"),
        ]

    @override
    def __str__(self) -> str:
        """Show quantity and description."""
        return f"{self.quantity} x {self.description}"
