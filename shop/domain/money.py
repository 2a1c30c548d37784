"""Money: Decimal amounts, one rounding rule, and sums that cannot disagree.

All rounding of money in the project goes through `round_money`: half up to the
currency's minor unit. No other function rounds a Decimal to a number of places.
"""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

ZERO = Decimal(0)
HUNDRED = Decimal(100)
MAX_MINOR_DIGITS = 4


def round_money(amount: Decimal, *, minor_digits: int = 2) -> Decimal:
    """Round half up (away from zero) to the currency's minor unit.

    Parameters
    ----------
    amount : Decimal
        Any amount, in the currency's major unit.
    minor_digits : int
        Decimal places of the minor unit, 0 to 4 (ISO 4217).

    Returns
    -------
    Decimal
        The amount with exactly `minor_digits` places.

    Examples
    --------
    >>> round_money(Decimal("0.125"))
    Decimal('0.13')
    >>> round_money(Decimal("-0.125"))
    Decimal('-0.13')
    >>> round_money(Decimal("1234.5"), minor_digits=0)
    Decimal('1235')
    """
    if not 0 <= minor_digits <= MAX_MINOR_DIGITS:
        raise ValueError(f"a minor unit has 0 to 4 digits, not {minor_digits}")
    return amount.quantize(Decimal(1).scaleb(-minor_digits), rounding=ROUND_HALF_UP)


def fits_minor_unit(amount: Decimal, *, minor_digits: int = 2) -> bool:
    """Say whether the amount needs no rounding.

    Examples
    --------
    >>> fits_minor_unit(Decimal("4.50")), fits_minor_unit(Decimal("4.505"))
    (True, False)
    """
    return amount == round_money(amount, minor_digits=minor_digits)


@dataclass(frozen=True, slots=True)
class TaxedAmount:
    """Net, tax and gross that belong together.

    Raises
    ------
    ValueError
        Where net + tax is not gross (EN 16931 BR-CO-15).

    Examples
    --------
    >>> TaxedAmount.of(Decimal("10.00"), Decimal("1.90")).gross
    Decimal('11.90')
    """

    net: Decimal
    tax: Decimal
    gross: Decimal

    def __post_init__(self) -> None:
        """Refuse amounts that disagree."""
        if self.net + self.tax != self.gross:
            raise ValueError(
                f"net {self.net} + tax {self.tax} is not gross {self.gross}"
            )

    @classmethod
    def of(cls, net: Decimal, tax: Decimal) -> "TaxedAmount":
        """Return the amount whose gross is net + tax."""
        return cls(net=net, tax=tax, gross=net + tax)

    def __add__(self, other: "TaxedAmount") -> "TaxedAmount":
        """Add field by field."""
        return TaxedAmount(
            net=self.net + other.net,
            tax=self.tax + other.tax,
            gross=self.gross + other.gross,
        )
