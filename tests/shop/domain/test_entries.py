"""What somebody typed is taken tidied or refused, and never half."""

from dataclasses import dataclass
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.domain.entries import (
    TextRule,
    altered,
    clean_member,
    clean_money,
    clean_quantity,
    differences,
    tidied,
)
from shop.domain.parts import PartUnit
from shop.domain.refusals import Refusal

NAME = TextRule("name", "The name", 10, required=True)


@dataclass(frozen=True, slots=True)
class Tag:
    name: str
    shelf: int | None = None


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("   ", "text-missing"),
        ("x" * 11, "text-too-long"),
        ("a\x00b", "text-unreadable"),
        ("a\x1bb", "text-unreadable"),
        ("a\ud800b", "text-unreadable"),
    ],
)
def test_text_that_cannot_be_kept_is_refused(typed: str, code: str) -> None:
    with pytest.raises(Refusal) as refused:
        NAME.clean(typed)
    assert (refused.value.code, refused.value.field) == (code, "name")


def test_line_ends_of_any_machine_become_one_kind() -> None:
    assert TextRule("note", "The note", 20).clean(" a\r\nb\rc ") == "a\nb\nc"


@given(st.text(st.characters(exclude_categories=["Cc", "Cs"])))
def test_cleaning_twice_is_cleaning_once(typed: str) -> None:
    rule = TextRule("note", "The note", 10_000)
    once = rule.clean(typed)
    assert rule.clean(once) == once


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("NaN", "money-too-large"),
        ("Infinity", "money-too-large"),
        ("1000000000", "money-too-large"),
        ("-0.01", "money-negative"),
        ("0.001", "money-too-fine"),
    ],
)
def test_an_amount_that_is_no_price_is_refused(typed: str, code: str) -> None:
    with pytest.raises(Refusal) as refused:
        clean_money(Decimal(typed), field="price", name="The price", minor_digits=2)
    assert refused.value.code == code


@pytest.mark.parametrize(
    ("typed", "whole", "code"),
    [
        ("0", True, "quantity-not-positive"),
        ("-2", False, "quantity-not-positive"),
        ("1.5", True, "quantity-not-whole"),
        ("1.2345", False, "quantity-too-fine"),
        ("NaN", False, "quantity-too-large"),
        ("100000", True, "quantity-too-large"),
    ],
)
def test_a_quantity_that_nobody_can_take_off_a_shelf_is_refused(
    typed: str, whole: bool, code: str
) -> None:
    with pytest.raises(Refusal) as refused:
        clean_quantity(Decimal(typed), whole=whole)
    assert refused.value.code == code


def test_a_word_outside_the_list_is_answered_with_the_list() -> None:
    with pytest.raises(Refusal, match="each, pair, set, metre"):
        clean_member(PartUnit, "dozen", field="unit", name="The unit")
    assert clean_member(PartUnit, "metre", field="unit", name="The unit") == "metre"


def test_only_what_differs_is_told() -> None:
    old = tidied(Tag(" 14 "), (NAME,))
    new = altered(old, {"shelf": 3})
    assert differences(old, new) == {"shelf": ("", "3")}
    assert differences(old, old) == {}


def test_a_change_of_an_unknown_field_is_a_mistake_of_the_program() -> None:
    with pytest.raises(TypeError):
        altered(Tag("14"), {"bin": "A"})
