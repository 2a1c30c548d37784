"""Work orders: a bike, a complaint, and where the work stands."""

from django.db import models
from typing_extensions import override

from shop.domain.lifecycle import ENDED, STATE_LABELS, State
from shop.models.bikes import Bike
from shop.models.columns import (
    MONEY_DIGITS,
    MONEY_PLACES,
    at_least,
    choices,
    one_of,
    row_id,
)
from shop.models.customers import Customer
from shop.models.people import User
from shop.models.searching import search_words


class WorkOrderQuerySet(models.QuerySet["WorkOrder"]):
    """Work orders, narrowed."""

    def in_state(self, *states: State) -> "WorkOrderQuerySet":
        """Keep those in one of the states."""
        return self.filter(state__in=[state.value for state in states])

    def still_open(self) -> "WorkOrderQuerySet":
        """Keep those that have not ended."""
        return self.exclude(state__in=[state.value for state in ENDED])

    def of_customer(self, customer_id: int) -> "WorkOrderQuerySet":
        """Keep those that one customer pays for."""
        return self.filter(customer_id=row_id(customer_id))

    def of_bike(self, bike_id: int) -> "WorkOrderQuerySet":
        """Keep those on one bike."""
        return self.filter(bike_id=row_id(bike_id))

    def of_technician(self, technician_id: int) -> "WorkOrderQuerySet":
        """Keep those that one technician is on."""
        return self.filter(technician_id=row_id(technician_id))

    def matching(self, text: str) -> "WorkOrderQuerySet":
        """Keep those whose number, complaint or bike hold every word."""
        found = self
        for word in search_words(text):
            found = found.filter(_holds(word))
        return found

    def matching_with_customer(self, text: str) -> "WorkOrderQuerySet":
        """Keep those whose number, complaint, bike or customer hold every word."""
        found = self
        for word in search_words(text):
            found = found.filter(
                _holds(word) | models.Q(customer__name__icontains=word)
            )
        return found

    def longest_waiting(self) -> "WorkOrderQuerySet":
        """Sort by how long they have been in their state, the longest first."""
        return self.order_by("state_since", "pk")

    def latest_first(self) -> "WorkOrderQuerySet":
        """Sort by number, the newest first."""
        return self.order_by("-number", "-pk")

    def with_people(self) -> "WorkOrderQuerySet":
        """Fetch bike, customer and technician with them."""
        return self.select_related("bike", "customer", "technician")


def _holds(word: str) -> models.Q:
    found = (
        models.Q(complaint__icontains=word)
        | models.Q(bike__maker__icontains=word)
        | models.Q(bike__model__icontains=word)
        | models.Q(bike__registration__icontains=word)
        | models.Q(bike__frame_number__icontains=word)
        | models.Q(bike__engine_number__icontains=word)
    )
    number = word.upper().removeprefix("WO").lstrip("-")
    if number.isdecimal() and len(number) <= 9:  # noqa: PLR2004 - fits the column
        found |= models.Q(number=int(number))
    return found


class WorkOrder(models.Model):
    """One job on one bike; `state` is written by actions alone."""

    number = models.PositiveIntegerField(unique=True)
    bike = models.ForeignKey(Bike, on_delete=models.PROTECT, related_name="work_orders")
    customer = models.ForeignKey(
        Customer, on_delete=models.PROTECT, related_name="work_orders"
    )
    technician = models.ForeignKey(
        User,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="work_orders",
    )
    state = models.CharField(
        max_length=20, choices=choices(STATE_LABELS), default=State.BOOKED_IN.value
    )
    state_since = models.DateTimeField()
    complaint = models.TextField(help_text="In the customer's own words.")
    intake_notes = models.TextField(
        blank=True, help_text="Condition, what came with the bike, odometer."
    )
    work_done = models.TextField(
        blank=True, help_text="What was done, in words the customer reads."
    )
    promised_on = models.DateField(null=True, blank=True)
    waiting_for = models.CharField(max_length=200, blank=True)
    estimate_amount = models.DecimalField(
        max_digits=MONEY_DIGITS,
        decimal_places=MONEY_PLACES,
        null=True,
        blank=True,
        help_text="Tax included.",
    )
    estimate_note = models.TextField(blank=True)
    approved_amount = models.DecimalField(
        max_digits=MONEY_DIGITS,
        decimal_places=MONEY_PLACES,
        null=True,
        blank=True,
        help_text="What the customer agreed to spend, tax included.",
    )
    approved_by_name = models.CharField(max_length=120, blank=True)
    approved_how = models.CharField(max_length=120, blank=True)
    approved_at = models.DateTimeField(null=True, blank=True)
    booked_in_at = models.DateTimeField()
    ended_at = models.DateTimeField(null=True, blank=True)

    objects = models.Manager.from_queryset(WorkOrderQuerySet)()

    class Meta:
        indexes = [
            models.Index(fields=["state", "-number"], name="work_order_board"),
        ]
        constraints = [
            one_of("state", State, name="work_order_state_known"),
            at_least("number", 1, name="work_order_number_positive"),
            at_least("estimate_amount", 0, name="work_order_estimate_not_negative"),
            at_least("approved_amount", 0, name="work_order_approved_not_negative"),
            models.CheckConstraint(
                condition=~models.Q(complaint=""), name="work_order_has_complaint"
            ),
            models.CheckConstraint(
                condition=models.Q(
                    state__in=[state.value for state in sorted(ENDED)],
                    ended_at__isnull=False,
                )
                | models.Q(
                    ~models.Q(state__in=[state.value for state in sorted(ENDED)]),
                    ended_at__isnull=True,
                ),
                name="work_order_ended_at_iff_ended",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show the label."""
        return self.label

    @property
    def label(self) -> str:
        """The number as people say and print it."""
        return f"WO-{self.number}"
