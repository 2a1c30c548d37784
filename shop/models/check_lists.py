"""Final check lists: the shop's own points, and each round of them on a work order."""

from django.db import models
from typing_extensions import override

from shop.domain.check_lists import ANSWER_LABELS, Answer
from shop.models.columns import choices, one_of, row_id
from shop.models.people import User
from shop.models.work_orders import WorkOrder


class CheckPointQuerySet(models.QuerySet["CheckPoint"]):
    """Points, narrowed."""

    def in_use(self) -> "CheckPointQuerySet":
        """Keep those that new rounds take over, in their order."""
        return self.filter(retired_at__isnull=True).order_by("position", "pk")


class CheckPoint(models.Model):
    """A point that the shop looks at before any bike is ready."""

    position = models.PositiveIntegerField()
    text = models.CharField(max_length=300)
    caution = models.TextField(blank=True)
    retired_at = models.DateTimeField(null=True, blank=True)

    objects = models.Manager.from_queryset(CheckPointQuerySet)()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(text=""), name="check_point_has_text"
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show the text."""
        return self.text


class CheckListQuerySet(models.QuerySet["CheckList"]):
    """Rounds, narrowed."""

    def of_work_order(self, work_order_id: int) -> "CheckListQuerySet":
        """Keep those of one work order, the latest first."""
        return self.filter(work_order_id=row_id(work_order_id)).order_by("-number")

    def standing(self) -> "CheckListQuerySet":
        """Keep those that count; one that went back to the bench does not."""
        return self.filter(ended_at__isnull=True)


class CheckList(models.Model):
    """One round of the final check; a bike sent back gets a new one."""

    work_order = models.ForeignKey(
        WorkOrder, on_delete=models.PROTECT, related_name="check_lists"
    )
    number = models.PositiveIntegerField()
    made_at = models.DateTimeField()
    ended_at = models.DateTimeField(null=True, blank=True)

    objects = models.Manager.from_queryset(CheckListQuerySet)()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["work_order", "number"], name="check_list_number_once"
            ),
            models.UniqueConstraint(
                fields=["work_order"],
                condition=models.Q(ended_at__isnull=True),
                name="check_list_one_standing",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show which round it is."""
        return f"round {self.number}"


class CheckItemQuerySet(models.QuerySet["CheckItem"]):
    """Items, narrowed."""

    def standing_on(self, work_order_id: int) -> "CheckItemQuerySet":
        """Keep those of the round that counts, in their order."""
        return self.filter(
            check_list__work_order_id=row_id(work_order_id),
            check_list__ended_at__isnull=True,
        ).order_by("position", "pk")


class CheckItem(models.Model):
    """One point of one round: what was found, by whom and when."""

    check_list = models.ForeignKey(
        CheckList, on_delete=models.PROTECT, related_name="items"
    )
    position = models.PositiveIntegerField()
    text = models.CharField(max_length=300)
    caution = models.TextField(blank=True)
    answer = models.CharField(
        max_length=20, choices=choices(ANSWER_LABELS), default=Answer.OPEN.value
    )
    note = models.CharField(max_length=300, blank=True)
    answered_by = models.ForeignKey(
        User, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    answered_at = models.DateTimeField(null=True, blank=True)

    objects = models.Manager.from_queryset(CheckItemQuerySet)()

    class Meta:
        constraints = [
            one_of("answer", Answer, name="check_item_answer_known"),
            models.CheckConstraint(
                condition=models.Q(
                    answer=Answer.OPEN.value,
                    answered_by__isnull=True,
                    answered_at__isnull=True,
                )
                | models.Q(
                    ~models.Q(answer=Answer.OPEN.value),
                    answered_by__isnull=False,
                    answered_at__isnull=False,
                ),
                name="check_item_answer_is_whole",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show the text."""
        return self.text
