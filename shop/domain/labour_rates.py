"""Which rate of an hour holds: the person's before the shop's, the kind's first."""

from dataclasses import dataclass
from decimal import Decimal

from shop.domain.entries import clean_member, clean_money
from shop.domain.labour import LabourKind


@dataclass(frozen=True, slots=True, kw_only=True)
class HourlyRates:
    """Every rate that may hold for one person's hour of one kind of work.

    Parameters
    ----------
    person_kind : Decimal or None
        Of this person, for this kind of work.
    person : Decimal or None
        Of this person, whatever the work.
    shop_kind : Decimal or None
        Of the shop, for this kind of work.
    shop : Decimal
        Of the shop, whatever the work.
    """

    person_kind: Decimal | None
    person: Decimal | None
    shop_kind: Decimal | None
    shop: Decimal

    def holding(self) -> Decimal:
        """Return the rate that holds.

        Examples
        --------
        >>> HourlyRates(
        ...     person_kind=None,
        ...     person=Decimal(61),
        ...     shop_kind=Decimal(70),
        ...     shop=Decimal(54),
        ... ).holding()
        Decimal('61')
        """
        ladder = (self.person_kind, self.person, self.shop_kind)
        return next((rate for rate in ladder if rate is not None), self.shop)


@dataclass(frozen=True, slots=True, kw_only=True)
class RateEntry:
    """A rate for one kind of work, as the owner enters it.

    Parameters
    ----------
    technician_id : int or None
        Whose; None means whoever works.
    hourly_rate : Decimal or None
        None takes the rate away, so that the next one down holds.
    """

    kind: str
    hourly_rate: Decimal | None
    technician_id: int | None = None

    def checked(self, *, minor_digits: int) -> "RateEntry":
        """Return the entry tidied, or refuse it.

        Examples
        --------
        >>> RateEntry(kind="check", hourly_rate=None).checked(minor_digits=2).kind
        'check'
        """
        kind = clean_member(
            LabourKind, self.kind, field="kind", name="The kind of work"
        )
        rate = self.hourly_rate
        if rate is not None:
            rate = clean_money(
                rate,
                field="hourly_rate",
                name="The hourly rate",
                minor_digits=minor_digits,
            )
        return RateEntry(
            kind=kind.value, hourly_rate=rate, technician_id=self.technician_id
        )
