"""Attached photos and documents: the row is also the order for their small pictures."""

from datetime import datetime
from typing import Self

from django.db import models
from typing_extensions import override

from shop.domain.attachments import (
    CAPTION,
    KIND_LABELS,
    THUMBNAIL_LABELS,
    AttachmentKind,
    FileType,
    Subject,
    ThumbnailState,
)
from shop.models.advisories import Advisory
from shop.models.bikes import Bike
from shop.models.columns import at_least, choices, one_of, row_id
from shop.models.people import User
from shop.models.strip_tags import StripTag
from shop.models.work_orders import WorkOrder

SUBJECT_COLUMNS = {
    Subject.BIKE: "bike",
    Subject.WORK_ORDER: "work_order",
    Subject.STRIP_TAG: "strip_tag",
    Subject.ADVISORY: "advisory",
}


class AttachmentQuerySet(models.QuerySet["Attachment"]):
    """Attachments, narrowed."""

    def of(self, subject: Subject, subject_id: int) -> Self:
        """Keep those of one bike, work order, strip tag or advisory."""
        return self.filter(**{f"{SUBJECT_COLUMNS[subject]}_id": row_id(subject_id)})

    def of_bike_and_its_work(self, bike_id: int) -> Self:
        """Keep those of a bike, its work orders, and what was on them."""
        pk = row_id(bike_id)
        return self.filter(
            models.Q(bike_id=pk)
            | models.Q(work_order__bike_id=pk)
            | models.Q(strip_tag__work_order__bike_id=pk)
            | models.Q(advisory__work_order__bike_id=pk)
        )

    def kept(self) -> Self:
        """Keep those that were not taken away."""
        return self.filter(removed_at__isnull=True)

    def photos(self) -> Self:
        """Keep the photos."""
        return self.filter(kind=AttachmentKind.PHOTO.value)

    def with_subject(self) -> Self:
        """Fetch what they are attached to, and who added them."""
        return self.select_related(
            "work_order", "strip_tag__work_order", "advisory__work_order", "added_by"
        )

    def in_thumbnail_state(self, state: ThumbnailState) -> Self:
        """Keep those whose small pictures stand so."""
        return self.filter(thumbnail_state=state.value)

    def due(self, at: datetime) -> Self:
        """Keep those that a worker may take now, the longest waiting first."""
        waiting = self.in_thumbnail_state(ThumbnailState.QUEUED)
        return waiting.filter(not_before__lte=at).order_by("not_before", "pk")

    def abandoned(self, at: datetime) -> Self:
        """Keep those whose worker has let its lease run out."""
        held = self.in_thumbnail_state(ThumbnailState.MAKING)
        return held.filter(lease_until__lte=at)

    def held_by(self, attachment_id: int, owner: str) -> Self:
        """Keep one, as long as this worker still holds it."""
        held = self.in_thumbnail_state(ThumbnailState.MAKING)
        return held.filter(pk=attachment_id, lease_owner=owner)

    def latest_first(self) -> Self:
        """Sort by when they were added, the newest first."""
        return self.order_by("-added_at", "-pk")


class Attachment(models.Model):
    """One photo or document of exactly one thing; `thumbnail_state` is for actions."""

    bike = models.ForeignKey(
        Bike, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    work_order = models.ForeignKey(
        WorkOrder, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    strip_tag = models.ForeignKey(
        StripTag, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    advisory = models.ForeignKey(
        Advisory, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )

    kind = models.CharField(max_length=20, choices=choices(KIND_LABELS))
    caption = models.CharField(max_length=CAPTION.longest, blank=True)
    taken_at = models.DateTimeField(null=True, blank=True)
    added_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    added_at = models.DateTimeField()
    shared_with_customer = models.BooleanField(default=False)

    digest = models.CharField(
        max_length=64, help_text="SHA-256 of the file as it was sent."
    )
    content_type = models.CharField(
        max_length=40, choices=[(kind.value, kind.value) for kind in FileType]
    )
    file_name = models.CharField(max_length=120, unique=True)
    byte_count = models.PositiveIntegerField()
    sha256 = models.CharField(
        max_length=64, help_text="SHA-256 of the file as it is kept."
    )
    width = models.PositiveIntegerField(null=True, blank=True)
    height = models.PositiveIntegerField(null=True, blank=True)
    page_count = models.PositiveIntegerField(null=True, blank=True)

    thumbnail_state = models.CharField(
        max_length=20,
        choices=choices(THUMBNAIL_LABELS),
        default=ThumbnailState.NONE.value,
    )
    thumbnail_name = models.CharField(max_length=120, blank=True)
    screen_name = models.CharField(max_length=120, blank=True)
    not_before = models.DateTimeField()
    lease_owner = models.CharField(max_length=32, blank=True)
    lease_until = models.DateTimeField(null=True, blank=True)
    attempts = models.PositiveIntegerField(default=0)
    errors = models.PositiveIntegerField(default=0)
    crashes = models.PositiveIntegerField(default=0)

    removed_at = models.DateTimeField(null=True, blank=True)
    removed_by = models.ForeignKey(
        User, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    removal_reason = models.CharField(max_length=200, blank=True)

    objects = models.Manager.from_queryset(AttachmentQuerySet)()

    class Meta:
        indexes = [
            models.Index(
                fields=["thumbnail_state", "not_before"], name="attachment_queue"
            ),
        ]
        constraints = [
            one_of("kind", AttachmentKind, name="attachment_kind_known"),
            one_of(
                "thumbnail_state", ThumbnailState, name="attachment_thumbnail_known"
            ),
            at_least("byte_count", 1, name="attachment_not_empty"),
            models.CheckConstraint(
                condition=models.Q(
                    bike__isnull=False,
                    work_order__isnull=True,
                    strip_tag__isnull=True,
                    advisory__isnull=True,
                )
                | models.Q(
                    bike__isnull=True,
                    work_order__isnull=False,
                    strip_tag__isnull=True,
                    advisory__isnull=True,
                )
                | models.Q(
                    bike__isnull=True,
                    work_order__isnull=True,
                    strip_tag__isnull=False,
                    advisory__isnull=True,
                )
                | models.Q(
                    bike__isnull=True,
                    work_order__isnull=True,
                    strip_tag__isnull=True,
                    advisory__isnull=False,
                ),
                name="attachment_of_exactly_one",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    kind=AttachmentKind.PHOTO.value,
                    width__gte=1,
                    height__gte=1,
                    page_count__isnull=True,
                )
                | models.Q(
                    kind=AttachmentKind.DOCUMENT.value,
                    width__isnull=True,
                    height__isnull=True,
                    page_count__gte=1,
                    thumbnail_state=ThumbnailState.NONE.value,
                ),
                name="attachment_photo_or_document",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    ~models.Q(thumbnail_name=""),
                    ~models.Q(screen_name=""),
                    thumbnail_state=ThumbnailState.READY.value,
                )
                | models.Q(
                    ~models.Q(thumbnail_state=ThumbnailState.READY.value),
                    thumbnail_name="",
                    screen_name="",
                ),
                name="attachment_thumbnails_iff_ready",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    ~models.Q(lease_owner=""),
                    thumbnail_state=ThumbnailState.MAKING.value,
                    lease_until__isnull=False,
                )
                | models.Q(
                    ~models.Q(thumbnail_state=ThumbnailState.MAKING.value),
                    lease_owner="",
                    lease_until__isnull=True,
                ),
                name="attachment_held_iff_making",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    removed_at__isnull=True, removed_by__isnull=True, removal_reason=""
                )
                | models.Q(
                    ~models.Q(removal_reason=""),
                    removed_at__isnull=False,
                    removed_by__isnull=False,
                ),
                name="attachment_removal_is_whole",
            ),
            *(
                models.UniqueConstraint(
                    fields=[column, "digest"],
                    condition=models.Q(removed_at__isnull=True),
                    name=f"attachment_once_per_{column}",
                )
                for column in SUBJECT_COLUMNS.values()
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show the caption, or what it is."""
        return self.caption or str(self.get_kind_display())
