"""Totals by tax rate, against EN 16931 and arithmetic (check-values X16, X17)."""

from decimal import Decimal
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.domain.money import round_money
from shop.domain.pricing import (
    Billing,
    PricedLine,
    TaxRounding,
    charged,
    part_net,
    tax_on,
    total,
)

RATES = [("Standard", Decimal(20)), ("Reduced", Decimal("5.5")), ("None", Decimal(0))]
lines = st.lists(
    st.builds(
        lambda cents, rate: PricedLine(Decimal(cents).scaleb(-2), *rate),
        st.integers(0, 2_000_000),
        st.sampled_from(RATES),
    ),
    max_size=12,
)
roundings = st.sampled_from(TaxRounding)


def three(net: str, percent: int) -> list[PricedLine]:
    return [PricedLine(Decimal(net), "Standard", Decimal(percent))] * 3


@pytest.mark.parametrize(
    ("net", "percent", "by_line", "by_rate"),
    [("0.99", 19, "0.57", "0.56"), ("1.02", 20, "0.60", "0.61")],
)
def test_the_two_ways_of_rounding_differ_as_in_x17(
    net: str, percent: int, by_line: str, by_rate: str
) -> None:
    # X17 (calc): 19 %, three lines of 0.99; 20 %, three lines of 1.02.
    per_rate = total(three(net, percent))
    per_line = total(three(net, percent), rounding=TaxRounding.PER_LINE)
    assert per_rate.amount.tax == Decimal(by_rate)
    assert per_line.amount.tax == Decimal(by_line)


def test_tax_is_taken_once_per_rate_as_br_co_17_asks() -> None:
    # X16 (pub S60), BR-CO-17: VAT per rate = taxable amount x rate/100, 2 decimals.
    sums = total(
        [
            PricedLine(Decimal("10.01"), "Standard", Decimal(20)),
            PricedLine(Decimal("10.01"), "Standard", Decimal(20)),
            PricedLine(Decimal("7.77"), "Reduced", Decimal(5)),
        ]
    )
    by_label = {rate.label: rate.amount for rate in sums.rates}
    assert by_label["Standard"].net == Decimal("20.02")
    assert by_label["Standard"].tax == Decimal("4.00")  # 4.004
    assert by_label["Reduced"].tax == Decimal("0.39")  # 0.3885


def test_an_order_without_lines_comes_to_nothing() -> None:
    sums = total([])
    assert sums.rates == ()
    assert str(sums.amount.gross) == "0.00"


def test_two_rates_of_one_percentage_stay_apart_by_name() -> None:
    sums = total(
        [
            PricedLine(Decimal(1), "Zero rated", Decimal(0)),
            PricedLine(Decimal(1), "Exempt", Decimal(0)),
        ]
    )
    assert [rate.label for rate in sums.rates] == ["Exempt", "Zero rated"]


def test_a_line_finer_than_the_minor_unit_is_refused() -> None:
    with pytest.raises(ValueError, match="finer"):
        total([PricedLine(Decimal("0.005"), "Standard", Decimal(20))])


def test_a_currency_without_cents_has_whole_tax() -> None:
    sums = total([PricedLine(Decimal(105), "Standard", Decimal(10))], minor_digits=0)
    assert str(sums.amount.tax) == "11"  # 10.5, half up


@given(lines, roundings)
def test_net_and_tax_are_gross_by_rate_and_in_all(
    given_lines: list[PricedLine], rounding: TaxRounding
) -> None:
    # X16 (pub S60): BR-CO-14, total tax = sum over rates; BR-CO-15; BR-CO-13.
    sums = total(given_lines, rounding=rounding)
    for rate in sums.rates:
        assert rate.amount.net + rate.amount.tax == rate.amount.gross
    assert sums.amount.net == sum((line.net for line in given_lines), start=Decimal(0))
    assert sums.amount.tax == sum((r.amount.tax for r in sums.rates), start=Decimal(0))
    assert sums.amount.net + sums.amount.tax == sums.amount.gross


@given(lines.filter(lambda found: len(found) <= 5), roundings)
def test_the_order_of_lines_changes_nothing(
    given_lines: list[PricedLine], rounding: TaxRounding
) -> None:
    first = total(given_lines, rounding=rounding)
    for other in list(permutations(given_lines))[:24]:
        assert total(other, rounding=rounding) == first


@given(lines)
def test_rounding_by_line_strays_half_a_cent_a_line_at_most(
    given_lines: list[PricedLine],
) -> None:
    exact = sum(
        (line.net * line.tax_percent / 100 for line in given_lines), start=Decimal(0)
    )
    per_line = total(given_lines, rounding=TaxRounding.PER_LINE).amount.tax
    per_rate = total(given_lines).amount.tax
    half = Decimal("0.005")
    assert abs(per_line - exact) <= half * len(given_lines)
    assert abs(per_rate - exact) <= half * len(RATES)


def test_a_part_line_is_quantity_times_price_rounded() -> None:
    assert part_net(quantity=Decimal("0.333"), price=Decimal("10.00")) == Decimal(
        "3.33"
    )
    assert tax_on(Decimal("0.25"), Decimal(10)) == round_money(Decimal("0.025"))


@given(st.integers(0, 2_000_000), st.sampled_from(Billing))
def test_goodwill_and_warranty_cost_the_customer_nothing(
    cents: int, billing: Billing
) -> None:
    worth = Decimal(cents).scaleb(-2)
    due = worth if billing is Billing.BILLABLE else Decimal(0)
    assert charged(worth, billing) == due


@given(lines, roundings, st.sampled_from([Billing.GOODWILL, Billing.WARRANTY]))
def test_what_the_shop_bears_changes_no_total(
    sold: list[PricedLine], rounding: TaxRounding, bearer: Billing
) -> None:
    borne = [PricedLine(Decimal(45), "Luxury", Decimal(30), bearer)]
    assert total(sold + borne, rounding=rounding) == total(sold, rounding=rounding)
