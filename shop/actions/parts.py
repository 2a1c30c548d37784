"""The parts list kept."""

from collections.abc import Mapping
from dataclasses import asdict
from datetime import datetime

from django.db import IntegrityError, transaction

from shop.actions._details import details_of, put
from shop.actions._rows import locked, minor_digits, tax_for_line
from shop.actions.history import Happening, record
from shop.domain.entries import altered, differences
from shop.domain.parts import PartDetails
from shop.domain.refusals import Refusal
from shop.domain.roles import Act
from shop.models import Part, User


@transaction.atomic
def add_part(*, details: PartDetails, acting_user: User, at: datetime) -> Part:
    """Put a part on the parts list.

    Raises
    ------
    Refusal
        ``part-number-taken`` where the list has it in this condition already.
    """
    acting_user.demand(Act.KEEP_PARTS_LIST)
    tidy = details.checked(minor_digits=minor_digits())
    tax_for_line(tidy.tax_rate_id)
    try:
        with transaction.atomic():
            part = Part.objects.create(**asdict(tidy))
    except IntegrityError as error:
        raise _taken(tidy) from error
    record(
        Happening(
            verb="part.added",
            kind="part",
            subject_id=part.pk,
            summary=f"{part.number} {part.description} put on the parts list",
        ),
        acting_user=acting_user,
        at=at,
    )
    return part


@transaction.atomic
def edit_part(
    *, part_id: int, changes: Mapping[str, object], acting_user: User, at: datetime
) -> Part:
    """Correct a part; lines that exist keep their copies. `changes` is by field."""
    acting_user.demand(Act.KEEP_PARTS_LIST)
    part = locked(Part.objects.all(), pk=part_id, field="part_id", name="part")
    old = details_of(part, PartDetails)
    new = altered(old, changes).checked(minor_digits=minor_digits())
    found = differences(old, new)
    if not found:
        return part
    if "tax_rate_id" in found:
        tax_for_line(new.tax_rate_id)
    try:
        with transaction.atomic():
            put(part, new, found)
    except IntegrityError as error:
        raise _taken(new) from error
    record(
        Happening(
            verb="part.edited",
            kind="part",
            subject_id=part.pk,
            summary=f"{part.number} {part.description} corrected",
            changes=found,
        ),
        acting_user=acting_user,
        at=at,
    )
    return part


def _taken(details: PartDetails) -> Refusal:
    return Refusal(
        "part-number-taken",
        f"{details.number} is on the parts list in this condition already. "
        "Change that entry, or choose another number or condition.",
        "number",
    )
