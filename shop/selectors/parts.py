"""The parts list."""

from dataclasses import dataclass
from decimal import Decimal

from shop.domain.parts import (
    CONDITION_LABELS,
    UNIT_LABELS,
    PartCondition,
    PartUnit,
)
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import Part
from shop.models.parts import PartQuerySet
from shop.selectors.shop_settings import ShopFacts, shop_facts
from shop.selectors.windows import FIRST_ROWS, Listing, Window, listing


@dataclass(frozen=True, slots=True, kw_only=True)
class PartRow:
    """One part in one condition."""

    id: int
    number: str
    description: str
    condition: str
    condition_label: str
    unit: str
    unit_label: str
    price: Decimal
    tax_rate_id: int
    tax_label: str
    tax_percent: Decimal
    bin: str
    notes: str
    is_retired: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PartFilter:
    """Which parts are wanted."""

    search: str = ""
    condition: PartCondition | None = None
    retired_too: bool = False


EVERY_PART_IN_USE = PartFilter()


def part_list(
    *,
    viewer: Viewer,
    wanted: PartFilter = EVERY_PART_IN_USE,
    window: Window = FIRST_ROWS,
) -> Listing[PartRow]:
    """Return the wanted parts, by number."""
    viewer.demand(Act.SEE_SHOP)
    shop = shop_facts()
    found: PartQuerySet = Part.objects.matching(wanted.search)
    if wanted.condition is not None:
        found = found.in_condition(wanted.condition)
    if not wanted.retired_too:
        found = found.in_use()
    return listing(
        found.by_number().select_related("tax_rate"),
        window=window,
        row=lambda part: part_row(part, shop),
    )


def part_page(*, part_id: int, viewer: Viewer) -> PartRow:
    """Return one part.

    Raises
    ------
    NotFound
        No such part.
    """
    viewer.demand(Act.SEE_SHOP)
    part = Part.objects.select_related("tax_rate").filter(pk=part_id).first()
    if part is None:
        raise NotFound("part-not-found", "There is no such part.")
    return part_row(part, shop_facts())


def part_row(part: Part, shop: ShopFacts) -> PartRow:
    """Return a part as a row; its tax rate must have been fetched with it."""
    return PartRow(
        id=part.pk,
        number=part.number,
        description=part.description,
        condition=part.condition,
        condition_label=CONDITION_LABELS[PartCondition(part.condition)],
        unit=part.unit,
        unit_label=UNIT_LABELS[PartUnit(part.unit)],
        price=shop.to_minor(part.price),
        tax_rate_id=part.tax_rate_id,
        tax_label=part.tax_rate.label,
        tax_percent=part.tax_rate.percent,
        bin=part.bin,
        notes=part.notes,
        is_retired=part.is_retired,
    )
