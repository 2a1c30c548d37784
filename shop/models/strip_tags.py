"""Strip tags: a part or bag taken off a bike, where it is and what becomes of it."""

from django.db import models
from typing_extensions import override

from shop.domain.refusals import Refusal
from shop.domain.strip_tags import (
    OWNERS_TO_HAVE,
    TAG_CONDITION_LABELS,
    TAG_FATE_LABELS,
    TAG_STATE_LABELS,
    UNSETTLED,
    TagCondition,
    TagFate,
    TagState,
    number_of,
    tag_code,
    tag_label,
)
from shop.models.columns import at_least, choices, one_of, row_id
from shop.models.people import User
from shop.models.searching import search_words
from shop.models.suppliers import Supplier
from shop.models.work_orders import WorkOrder


class StripTagQuerySet(models.QuerySet["StripTag"]):
    """Strip tags, narrowed."""

    def of_work_order(self, work_order_id: int) -> "StripTagQuerySet":
        """Keep those of one work order."""
        return self.filter(work_order_id=row_id(work_order_id))

    def of_bike(self, bike_id: int) -> "StripTagQuerySet":
        """Keep those that came off one bike."""
        return self.filter(work_order__bike_id=row_id(bike_id))

    def in_state(self, *states: TagState) -> "StripTagQuerySet":
        """Keep those in one of the states."""
        return self.filter(state__in=[state.value for state in states])

    def unsettled(self) -> "StripTagQuerySet":
        """Keep those that are not yet back on the bike, with the owner or gone."""
        return self.in_state(*sorted(UNSETTLED))

    def owners_to_have(self) -> "StripTagQuerySet":
        """Keep those that the owner gets back."""
        return self.filter(fate__in=[fate.value for fate in sorted(OWNERS_TO_HAVE)])

    def matching(self, text: str) -> "StripTagQuerySet":
        """Keep those whose number, name, place, shelf or bike hold every word."""
        found = self
        for word in search_words(text):
            found = found.filter(_holds(word))
        return found

    def with_places(self) -> "StripTagQuerySet":
        """Fetch work order, bike and supplier with them."""
        return self.select_related("work_order__bike", "supplier")

    def by_number(self) -> "StripTagQuerySet":
        """Sort by number, as they came off."""
        return self.order_by("number")

    def latest_first(self) -> "StripTagQuerySet":
        """Sort by number, the newest first."""
        return self.order_by("-number")


def _holds(word: str) -> models.Q:
    found = (
        models.Q(name__icontains=word)
        | models.Q(place__icontains=word)
        | models.Q(shelf__icontains=word)
        | models.Q(work_order__bike__maker__icontains=word)
        | models.Q(work_order__bike__model__icontains=word)
        | models.Q(supplier__name__icontains=word)
    )
    try:
        found |= models.Q(number=number_of(word))
    except Refusal:
        return found
    return found


class StripTag(models.Model):
    """One part or bag; `state` is written by actions alone."""

    number = models.PositiveIntegerField(unique=True)
    work_order = models.ForeignKey(
        WorkOrder, on_delete=models.PROTECT, related_name="strip_tags"
    )
    name = models.CharField(max_length=120)
    place = models.CharField(max_length=120, blank=True)
    pieces = models.PositiveSmallIntegerField(default=1)
    condition = models.CharField(
        max_length=20,
        choices=choices(TAG_CONDITION_LABELS),
        default=TagCondition.UNSEEN.value,
    )
    condition_note = models.TextField(blank=True)
    shelf = models.CharField(max_length=40, blank=True)
    fate = models.CharField(
        max_length=20, choices=choices(TAG_FATE_LABELS), default=TagFate.REFIT.value
    )
    consent_by_name = models.CharField(max_length=120, blank=True)
    consent_how = models.CharField(max_length=120, blank=True)
    consent_at = models.DateTimeField(null=True, blank=True)
    state = models.CharField(
        max_length=20,
        choices=choices(TAG_STATE_LABELS),
        default=TagState.ON_SHELF.value,
    )
    state_since = models.DateTimeField()
    supplier = models.ForeignKey(
        Supplier,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="strip_tags",
        help_text="Where it is while it is out.",
    )
    taken_off_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    taken_off_at = models.DateTimeField()

    objects = models.Manager.from_queryset(StripTagQuerySet)()

    class Meta:
        indexes = [
            models.Index(fields=["work_order", "number"], name="strip_tag_of_order"),
            models.Index(fields=["state", "-number"], name="strip_tag_where"),
        ]
        constraints = [
            one_of("state", TagState, name="strip_tag_state_known"),
            one_of("fate", TagFate, name="strip_tag_fate_known"),
            one_of("condition", TagCondition, name="strip_tag_condition_known"),
            at_least("number", 1, name="strip_tag_number_positive"),
            at_least("pieces", 1, name="strip_tag_pieces_positive"),
            models.CheckConstraint(
                condition=~models.Q(name=""), name="strip_tag_has_name"
            ),
            models.CheckConstraint(
                condition=models.Q(state=TagState.OUT.value, supplier__isnull=False)
                | models.Q(~models.Q(state=TagState.OUT.value), supplier__isnull=True),
                name="strip_tag_supplier_iff_out",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    ~models.Q(consent_by_name=""), consent_at__isnull=False
                )
                | models.Q(
                    ~models.Q(state=TagState.SCRAPPED.value),
                    ~models.Q(fate=TagFate.SCRAP.value),
                ),
                name="strip_tag_scrap_has_consent",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show label and name."""
        return f"{self.label} {self.name}"

    @property
    def label(self) -> str:
        """The number as people say and print it."""
        return tag_label(self.number)

    @property
    def code(self) -> str:
        """The digits that its label's address ends in."""
        return tag_code(self.number)
