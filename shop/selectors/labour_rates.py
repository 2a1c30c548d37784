"""Rates of an hour: for each technician and kind, the one kept and the one holding."""

from dataclasses import dataclass
from decimal import Decimal

from shop.domain.labour import LABOUR_KIND_LABELS
from shop.domain.labour_rates import HourlyRates
from shop.domain.roles import PERMISSIONS, Act, Role, Viewer
from shop.models import LabourRate, User
from shop.selectors.shop_settings import ShopFacts, shop_facts


@dataclass(frozen=True, slots=True, kw_only=True)
class KindRate:
    """What is kept for one kind of work, and what holds in the end."""

    kind: str
    kind_label: str
    kept: Decimal | None
    holding: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class LabourRateRow:
    """The rates of one technician, or those of the whole shop."""

    technician_id: int | None
    name: str
    own_rate: Decimal | None
    kinds: tuple[KindRate, ...]


def labour_rates(*, viewer: Viewer) -> tuple[LabourRateRow, ...]:
    """Return the shop's rates and then each technician's, in three queries."""
    viewer.demand(Act.KEEP_SHOP_SETTINGS)
    shop = shop_facts()
    kept = {
        (rate.technician_id, rate.kind): shop.to_minor(rate.hourly_rate)
        for rate in LabourRate.objects.all()
    }
    roles = [role for role in Role if Act.BOOK_LABOUR in PERMISSIONS[role]]
    people = User.objects.with_role(*roles).at_work().by_name()
    return (
        _row(None, "Whoever works", None, kept, shop),
        *(
            _row(person.pk, person.name, person.hourly_rate, kept, shop)
            for person in people
        ),
    )


def _row(
    technician_id: int | None,
    name: str,
    own_rate: Decimal | None,
    kept: dict[tuple[int | None, str], Decimal],
    shop: ShopFacts,
) -> LabourRateRow:
    own = None if own_rate is None else shop.to_minor(own_rate)
    kinds = []
    for kind, label in LABOUR_KIND_LABELS.items():
        mine = kept.get((technician_id, kind.value))
        rates = HourlyRates(
            person_kind=mine,
            person=own,
            shop_kind=kept.get((None, kind.value)),
            shop=shop.hourly_rate,
        )
        kinds.append(
            KindRate(
                kind=kind.value, kind_label=label, kept=mine, holding=rates.holding()
            )
        )
    return LabourRateRow(
        technician_id=technician_id, name=name, own_rate=own, kinds=tuple(kinds)
    )
