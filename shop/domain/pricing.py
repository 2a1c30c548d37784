"""From priced lines to totals by tax rate.

Tax is worked out once per rate on the net sum of its lines and rounded once
(EN 16931, BR-CO-17); total tax is the sum over the rates (BR-CO-14). Where local
rules ask for it, tax is rounded line by line instead: `TaxRounding.PER_LINE`.
The lines are net amounts already rounded to the minor unit.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from shop.domain.money import (
    HUNDRED,
    ZERO,
    TaxedAmount,
    fits_minor_unit,
    round_money,
)


class TaxRounding(StrEnum):
    """Where the rounding of tax happens."""

    PER_RATE = "per_rate"
    PER_LINE = "per_line"


class Billing(StrEnum):
    """Who bears a line: the customer, the shop's goodwill, or a warranty."""

    BILLABLE = "billable"
    GOODWILL = "goodwill"
    WARRANTY = "warranty"


BILLING_LABELS: dict[Billing, str] = {
    Billing.BILLABLE: "Billable",
    Billing.GOODWILL: "Goodwill",
    Billing.WARRANTY: "Warranty",
}


@dataclass(frozen=True, slots=True)
class PricedLine:
    """One line of a work order, as far as money is concerned.

    Parameters
    ----------
    net : Decimal
        Amount without tax, rounded to the minor unit.
    tax_label : str
        Name of the rate, as frozen on the line.
    tax_percent : Decimal
        The rate in percent, as frozen on the line.
    billing : Billing
        Who bears it; only what is billable counts in the totals.
    """

    net: Decimal
    tax_label: str
    tax_percent: Decimal
    billing: Billing = Billing.BILLABLE


@dataclass(frozen=True, slots=True)
class RateTotal:
    """What all lines of one rate come to."""

    label: str
    percent: Decimal
    amount: TaxedAmount


@dataclass(frozen=True, slots=True)
class Totals:
    """The sum of a document: by rate, and in all."""

    rates: tuple[RateTotal, ...]
    amount: TaxedAmount


def part_net(*, quantity: Decimal, price: Decimal, minor_digits: int = 2) -> Decimal:
    """Return quantity times price, rounded to the minor unit.

    Examples
    --------
    >>> part_net(quantity=Decimal("2.5"), price=Decimal("3.33"))
    Decimal('8.33')
    """
    return round_money(quantity * price, minor_digits=minor_digits)


def charged(worth: Decimal, billing: Billing, *, minor_digits: int = 2) -> Decimal:
    """Return what of a line's worth the customer is charged: all of it or nothing.

    Examples
    --------
    >>> charged(Decimal("45.00"), Billing.BILLABLE)
    Decimal('45.00')
    >>> charged(Decimal("45.00"), Billing.GOODWILL)
    Decimal('0.00')
    """
    due = worth if billing is Billing.BILLABLE else ZERO
    return round_money(due, minor_digits=minor_digits)


def tax_on(net: Decimal, percent: Decimal, *, minor_digits: int = 2) -> Decimal:
    """Return the tax on a net amount, rounded to the minor unit.

    Examples
    --------
    >>> tax_on(Decimal("2.97"), Decimal(19))
    Decimal('0.56')
    """
    return round_money(net * percent / HUNDRED, minor_digits=minor_digits)


def total(
    lines: Iterable[PricedLine],
    *,
    rounding: TaxRounding = TaxRounding.PER_RATE,
    minor_digits: int = 2,
) -> Totals:
    """Return totals by rate, highest rate first, and the total of all.

    What the shop or a warranty bears is left out, and so is a rate that has no
    other lines.

    Raises
    ------
    ValueError
        Where a line's net amount is finer than the minor unit.

    Examples
    --------
    >>> lines = [PricedLine(Decimal("0.99"), "Standard", Decimal(19))] * 3
    >>> total(lines).amount.tax
    Decimal('0.56')
    >>> total(lines, rounding=TaxRounding.PER_LINE).amount.tax
    Decimal('0.57')
    """
    by_rate: dict[tuple[Decimal, str], list[Decimal]] = defaultdict(list)
    for line in lines:
        if line.billing is not Billing.BILLABLE:
            continue
        if not fits_minor_unit(line.net, minor_digits=minor_digits):
            raise ValueError(f"line net {line.net} is finer than the minor unit")
        by_rate[(line.tax_percent, line.tax_label)].append(line.net)
    rates = tuple(
        RateTotal(label, percent, _taxed(nets, percent, rounding, minor_digits))
        for (percent, label), nets in sorted(
            by_rate.items(), key=lambda item: (-item[0][0], item[0][1])
        )
    )
    nothing = TaxedAmount.of(
        round_money(ZERO, minor_digits=minor_digits),
        round_money(ZERO, minor_digits=minor_digits),
    )
    return Totals(rates=rates, amount=sum((r.amount for r in rates), start=nothing))


def _taxed(
    nets: list[Decimal], percent: Decimal, rounding: TaxRounding, minor_digits: int
) -> TaxedAmount:
    net = round_money(sum(nets, start=ZERO), minor_digits=minor_digits)
    if rounding is TaxRounding.PER_RATE:
        return TaxedAmount.of(net, tax_on(net, percent, minor_digits=minor_digits))
    tax = sum(
        (tax_on(line, percent, minor_digits=minor_digits) for line in nets),
        start=ZERO,
    )
    return TaxedAmount.of(net, round_money(tax, minor_digits=minor_digits))
