"""The library: harness files as they were uploaded, word for word."""

from django.conf import settings
from django.db import models
from django.db.models.functions import Length
from django.db.models.lookups import Exact
from typing_extensions import override


class HarnessFileQuerySet(models.QuerySet["HarnessFile"]):
    """Filters over the library."""

    def by_bike(self) -> "HarnessFileQuerySet":
        """Order by maker, model and years, as on a shelf."""
        return self.order_by("maker", "model", "years", "pk")

    def matching(self, words: str) -> "HarnessFileQuerySet":
        """Keep the files that carry every word in maker, model, years or title."""
        found = self
        for word in words.split():
            found = found.filter(
                models.Q(maker__icontains=word)
                | models.Q(model__icontains=word)
                | models.Q(years__icontains=word)
                | models.Q(title__icontains=word)
            )
        return found

    def fitting(self, nominal_volts: int, earth: str) -> "HarnessFileQuerySet":
        """Keep the drawings of one voltage and polarity."""
        return self.filter(nominal_volts=nominal_volts, earth=earth)

    def with_digest(self, sha256: str) -> "HarnessFileQuerySet":
        """Keep the file of exactly these bytes."""
        return self.filter(sha256=sha256)


class HarnessFile(models.Model):
    """One loom as drawn: the TOML text and what it says of itself.

    A file never changes: what was found on a bike was found against this text.
    A corrected drawing is a new file.
    """

    maker = models.CharField(max_length=80)
    model = models.CharField(max_length=80)
    years = models.CharField(max_length=40, blank=True)
    title = models.CharField(max_length=200)
    text = models.TextField()
    sha256 = models.CharField(max_length=64, unique=True)
    nominal_volts = models.PositiveSmallIntegerField()
    earth = models.CharField(max_length=8)
    wire_count = models.PositiveIntegerField()
    device_count = models.PositiveIntegerField()
    added_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    added_at = models.DateTimeField()

    objects = models.Manager.from_queryset(HarnessFileQuerySet)()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(maker="") & ~models.Q(model=""),
                name="harness_file_names_its_bike",
            ),
            models.CheckConstraint(
                condition=models.Q(nominal_volts__in=(6, 12, 24)),
                name="harness_file_volts_known",
            ),
            models.CheckConstraint(
                condition=models.Q(earth__in=("negative", "positive")),
                name="harness_file_earth_known",
            ),
            models.CheckConstraint(
                condition=Exact(Length("sha256"), 64),
                name="harness_file_digest_is_sha256",
            ),
        ]

    @override
    def __str__(self) -> str:
        return f"{self.maker} {self.model} {self.years}".strip()
