"""Wire colours: the letters of IEC 60757."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness.colours import NAMES, SCREEN, WireColour, describe, parse_colour

SINGLE = sorted(SCREEN)


def test_the_letters_are_those_of_the_standard() -> None:
    # K1, IEC 60757 table 1 (published), in table order
    table = "BK BN RD OG YE GN BU VT GY WH PK GD TQ SR GNYE"
    assert list(NAMES) == table.split()


def test_a_base_and_a_tracer_in_the_trades_order() -> None:
    colour = parse_colour("WHRD")
    assert (colour.base, colour.tracer) == ("WH", "RD")
    assert colour.words == "white with red tracer"


def test_lower_case_means_the_same() -> None:
    # K5, IEC 60757:1983 note
    assert parse_colour("bk") == parse_colour("BK")
    assert parse_colour("rdWh").letters == "RDWH"


def test_green_with_yellow_is_one_colour_and_never_refused() -> None:
    # K4: the standard keeps it for earths; old bikes use it as they please
    assert parse_colour("GNYE") == WireColour("GNYE")
    assert describe("gnye") == "green with yellow"
    assert parse_colour("GNYE").screen == (SCREEN["GN"], SCREEN["YE"])
    assert parse_colour("GNYERD").tracer == "RD"
    assert parse_colour("YEGN").words == "yellow with green tracer"


@pytest.mark.parametrize(
    ("letters", "why"),
    [
        ("", "is not a colour"),
        ("R", "is not a colour"),
        ("ROD", "is not a colour"),
        ("RED", "is not a colour"),
        ("RDW", "no tracer colour after RD"),
        ("RDWHBK", "no tracer colour after RD"),
        ("RDRD", "the same colour twice"),
        ("BK+BN", "no tracer colour after BK"),
        ("RD WH", "no tracer colour after RD"),
        ("x" * 1000, "is not a colour"),
    ],
)
def test_other_letters_are_refused_with_the_reason(letters: str, why: str) -> None:
    with pytest.raises(ValueError, match=why) as caught:
        parse_colour(letters)
    assert len(str(caught.value)) < 100


@given(st.sampled_from(SINGLE), st.none() | st.sampled_from(SINGLE))
def test_letters_and_words_of_every_pair(base: str, tracer: str | None) -> None:
    if base == tracer:
        return
    letters = base + (tracer or "")
    colour = parse_colour(letters)
    assert colour.letters == letters
    assert colour.words.startswith(NAMES[base])
    stripe = colour.screen[1]
    assert (stripe is None) == (tracer is None)


def test_every_screen_colour_is_a_different_one() -> None:
    assert len(set(SCREEN.values())) == len(SCREEN) == len(NAMES) - 1
