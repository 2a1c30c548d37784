"""Rates by kind of labour, set and taken away."""

from datetime import datetime
from decimal import Decimal

from django.db import transaction

from shop.actions._bench import check_bench_worker
from shop.actions._rows import minor_digits
from shop.actions.history import Happening, record
from shop.domain.labour import LABOUR_KIND_LABELS, LabourKind
from shop.domain.labour_rates import RateEntry
from shop.domain.money import round_money
from shop.domain.roles import Act
from shop.models import LabourRate, User


@transaction.atomic
def set_labour_rate(
    *, entry: RateEntry, acting_user: User, at: datetime
) -> LabourRate | None:
    """Set what an hour costs from now on; lines booked already keep their rate.

    Raises
    ------
    Refusal
        The rate or the kind is wrong, or nobody of that name works at the bench.
    """
    acting_user.demand(Act.KEEP_SHOP_SETTINGS)
    digits = minor_digits()
    tidy = entry.checked(minor_digits=digits)
    check_bench_worker(tidy.technician_id)
    kept = LabourRate.objects.of_kind(tidy.kind).select_for_update(no_key=True)
    row = kept.filter(technician_id=tidy.technician_id).first()
    old, old_id = (row.hourly_rate, row.pk) if row else (None, 0)
    if old == tidy.hourly_rate:
        return row
    row = _written(row, tidy)
    record(
        Happening(
            verb="labour_rate.set",
            kind="labour_rate",
            subject_id=row.pk if row else old_id,
            summary=f"Rate an hour set: {_whose(tidy)}",
            changes={
                "hourly_rate": (_shown(old, digits), _shown(tidy.hourly_rate, digits))
            },
        ),
        acting_user=acting_user,
        at=at,
    )
    return row


def _written(row: LabourRate | None, entry: RateEntry) -> LabourRate | None:
    if entry.hourly_rate is None:
        if row is not None:
            row.delete()
        return None
    if row is None:
        return LabourRate.objects.create(
            technician_id=entry.technician_id,
            kind=entry.kind,
            hourly_rate=entry.hourly_rate,
        )
    row.hourly_rate = entry.hourly_rate
    row.save(update_fields=["hourly_rate"])
    return row


def _whose(entry: RateEntry) -> str:
    kind = LABOUR_KIND_LABELS[LabourKind(entry.kind)].lower()
    if entry.technician_id is None:
        return f"{kind}, whoever works"
    return f"{kind}, {User.objects.get(pk=entry.technician_id).name}"


def _shown(rate: Decimal | None, digits: int) -> str:
    return "" if rate is None else f"{round_money(rate, minor_digits=digits):f}"
