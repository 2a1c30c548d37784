"""Money, against arithmetic and EN 16931 (check-values X16, X18)."""

from decimal import ROUND_HALF_EVEN, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.domain.money import TaxedAmount, fits_minor_unit, round_money

amounts = st.decimals(
    min_value=-1_000_000, max_value=1_000_000, places=6, allow_nan=False
)
cents = st.integers(-10_000_000, 10_000_000).map(lambda n: Decimal(n).scaleb(-2))


def test_half_a_cent_goes_up_as_in_x18() -> None:
    # X18 (calc): 0.125 half-up 0.13, half-even 0.12; 0.135 both 0.14.
    assert round_money(Decimal("0.125")) == Decimal("0.13")
    assert round_money(Decimal("0.135")) == Decimal("0.14")
    half_even = Decimal("0.125").quantize(Decimal("0.01"), rounding=ROUND_HALF_EVEN)
    assert half_even == Decimal("0.12")


def test_a_float_would_have_lost_the_half_cent_of_x18() -> None:
    # X18 (calc): float round(2.675, 2) is 2.67: never float for money.
    assert round(2.675, 2) == 2.67
    assert round_money(Decimal("2.675")) == Decimal("2.68")


@pytest.mark.parametrize(
    ("digits", "rounded"), [(0, "12"), (2, "12.35"), (3, "12.346"), (4, "12.3457")]
)
def test_the_minor_unit_is_the_currencys(digits: int, rounded: str) -> None:
    # X19 (pub S61~): 0, 2, 3 and 4 places exist in ISO 4217.
    assert str(round_money(Decimal("12.345678"), minor_digits=digits)) == rounded


@pytest.mark.parametrize("digits", [-1, 5])
def test_no_currency_has_such_a_minor_unit(digits: int) -> None:
    with pytest.raises(ValueError, match="0 to 4"):
        round_money(Decimal(1), minor_digits=digits)


@given(amounts)
def test_rounding_moves_an_amount_by_half_a_minor_unit_at_most(amount: Decimal) -> None:
    assert abs(round_money(amount) - amount) <= Decimal("0.005")


@given(amounts)
def test_rounding_twice_is_rounding_once(amount: Decimal) -> None:
    once = round_money(amount)
    assert round_money(once) == once
    assert fits_minor_unit(once)


@given(amounts)
def test_a_credit_rounds_like_the_debit_it_cancels(amount: Decimal) -> None:
    assert round_money(-amount) == -round_money(amount)


def test_amounts_that_disagree_are_refused() -> None:
    # X16 (pub S60), BR-CO-15: gross = net + VAT.
    with pytest.raises(ValueError, match="is not gross"):
        TaxedAmount(net=Decimal(10), tax=Decimal(2), gross=Decimal("12.01"))


@given(cents, cents, cents, cents)
def test_sums_of_amounts_agree(a: Decimal, b: Decimal, c: Decimal, d: Decimal) -> None:
    both = TaxedAmount.of(a, b) + TaxedAmount.of(c, d)
    assert both.net + both.tax == both.gross == a + b + c + d
