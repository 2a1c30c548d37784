"""Outside work: what a supplier does to parts of a bike, and what it costs."""

from datetime import date

from django.db import models
from typing_extensions import override

from shop.domain.outside_work import (
    CHECK_RESULT_LABELS,
    OUTSIDE_STATE_LABELS,
    CheckResult,
    OutsideState,
    outside_label,
)
from shop.domain.suppliers import TRADE_LABELS, Trade
from shop.models.columns import (
    MONEY_DIGITS,
    MONEY_PLACES,
    at_least,
    choices,
    one_of,
    row_id,
)
from shop.models.people import User
from shop.models.searching import search_words
from shop.models.strip_tags import StripTag
from shop.models.suppliers import Supplier
from shop.models.work_orders import WorkOrder


class OutsideWorkQuerySet(models.QuerySet["OutsideWork"]):
    """Outside work, narrowed."""

    def of_work_order(self, work_order_id: int) -> "OutsideWorkQuerySet":
        """Keep that of one work order, in the order it was written down."""
        return self.filter(work_order_id=row_id(work_order_id)).order_by("number")

    def of_supplier(self, supplier_id: int) -> "OutsideWorkQuerySet":
        """Keep that of one supplier."""
        return self.filter(supplier_id=row_id(supplier_id))

    def in_state(self, *states: OutsideState) -> "OutsideWorkQuerySet":
        """Keep that in one of the states."""
        return self.filter(state__in=[state.value for state in states])

    def standing(self) -> "OutsideWorkQuerySet":
        """Keep what was not dropped."""
        return self.exclude(state=OutsideState.DROPPED.value)

    def overdue(self, today: date) -> "OutsideWorkQuerySet":
        """Keep what should have been back before today."""
        return self.in_state(OutsideState.AWAY).filter(promised_on__lt=today)

    def matching(self, text: str) -> "OutsideWorkQuerySet":
        """Keep what holds every word in its description, supplier or bike."""
        found = self
        for word in search_words(text):
            found = found.filter(_holds(word))
        return found

    def with_places(self) -> "OutsideWorkQuerySet":
        """Fetch work order, bike and supplier with it."""
        return self.select_related("work_order__bike", "supplier")

    def soonest_first(self) -> "OutsideWorkQuerySet":
        """Sort by the promised day, that without one last, the newest first."""
        return self.order_by(models.F("promised_on").asc(nulls_last=True), "-number")


def _holds(word: str) -> models.Q:
    found = (
        models.Q(description__icontains=word)
        | models.Q(supplier__name__icontains=word)
        | models.Q(work_order__bike__maker__icontains=word)
        | models.Q(work_order__bike__model__icontains=word)
    )
    number = word.upper().removeprefix("OW").lstrip("-")
    if number.isdecimal() and len(number) <= 9:  # noqa: PLR2004 - fits the column
        found |= models.Q(number=int(number))
    return found


class OutsideWork(models.Model):
    """One order to one supplier; `state` is written by actions alone."""

    number = models.PositiveIntegerField(unique=True)
    work_order = models.ForeignKey(
        WorkOrder, on_delete=models.PROTECT, related_name="outside_work"
    )
    supplier = models.ForeignKey(
        Supplier, on_delete=models.PROTECT, related_name="outside_work"
    )
    trade = models.CharField(max_length=20, choices=choices(TRADE_LABELS))
    description = models.CharField(max_length=200)
    state = models.CharField(
        max_length=20,
        choices=choices(OUTSIDE_STATE_LABELS),
        default=OutsideState.PLANNED.value,
    )
    state_since = models.DateTimeField()
    sent_on = models.DateField(null=True, blank=True)
    promised_on = models.DateField(null=True, blank=True)
    back_on = models.DateField(null=True, blank=True)
    quote_amount = models.DecimalField(
        max_digits=MONEY_DIGITS, decimal_places=MONEY_PLACES, null=True, blank=True
    )
    cost_amount = models.DecimalField(
        max_digits=MONEY_DIGITS, decimal_places=MONEY_PLACES, null=True, blank=True
    )
    markup_percent = models.DecimalField(max_digits=6, decimal_places=2, default=0)
    tax_label = models.CharField(max_length=60)
    tax_percent = models.DecimalField(max_digits=6, decimal_places=3)
    notes = models.TextField(blank=True)
    made_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    created_at = models.DateTimeField()

    objects = models.Manager.from_queryset(OutsideWorkQuerySet)()

    class Meta:
        verbose_name_plural = "outside work"
        indexes = [
            models.Index(fields=["work_order", "number"], name="outside_work_of_order"),
            models.Index(fields=["state", "promised_on"], name="outside_work_due"),
        ]
        constraints = [
            one_of("state", OutsideState, name="outside_work_state_known"),
            one_of("trade", Trade, name="outside_work_trade_known"),
            at_least("number", 1, name="outside_work_number_positive"),
            at_least("quote_amount", 0, name="outside_work_quote_not_negative"),
            at_least("cost_amount", 0, name="outside_work_cost_not_negative"),
            at_least("markup_percent", 0, name="outside_work_markup_not_negative"),
            at_least("tax_percent", 0, name="outside_work_tax_not_negative"),
            models.CheckConstraint(
                condition=~models.Q(description=""),
                name="outside_work_has_description",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    ~models.Q(
                        state__in=[OutsideState.AWAY.value, OutsideState.BACK.value]
                    )
                )
                | models.Q(sent_on__isnull=False),
                name="outside_work_sent_before_away",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show label and description."""
        return f"{self.label} {self.description}"

    @property
    def label(self) -> str:
        """The number as people say and print it."""
        return outside_label(self.number)


class OutsideTagQuerySet(models.QuerySet["OutsideTag"]):
    """Tags on outside work, narrowed."""

    def still_to_come(self) -> "OutsideTagQuerySet":
        """Keep those that have not been booked back."""
        return self.filter(result="")

    def of_outside_work(self, outside_work_id: int) -> "OutsideTagQuerySet":
        """Keep those of one piece of outside work, by number."""
        found = self.filter(outside_work_id=row_id(outside_work_id))
        return found.order_by("tag__number", "pk")


class OutsideTag(models.Model):
    """A tag that goes out with a piece of outside work, once for each time it goes."""

    outside_work = models.ForeignKey(
        OutsideWork, on_delete=models.PROTECT, related_name="tags"
    )
    tag = models.ForeignKey(StripTag, on_delete=models.PROTECT, related_name="outings")
    result = models.CharField(
        max_length=20, choices=choices(CHECK_RESULT_LABELS), blank=True
    )
    note = models.CharField(max_length=200, blank=True)
    checked_by = models.ForeignKey(
        User, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    checked_at = models.DateTimeField(null=True, blank=True)

    objects = models.Manager.from_queryset(OutsideTagQuerySet)()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["tag"],
                condition=models.Q(result=""),
                name="tag_on_one_outing_at_a_time",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    result="", checked_at__isnull=True, checked_by__isnull=True
                )
                | models.Q(
                    result__in=[
                        CheckResult.GOOD.value,
                        CheckResult.NOT_GOOD.value,
                        CheckResult.LOST.value,
                    ],
                    checked_at__isnull=False,
                    checked_by__isnull=False,
                ),
                name="outing_check_is_whole",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show work and tag."""
        return f"{self.outside_work_id}: {self.tag_id}"
