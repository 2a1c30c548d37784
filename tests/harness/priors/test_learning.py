"""Confirmed repairs, taken in whatever order and form they come."""

from collections.abc import Mapping, Sequence
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness.errors import HarnessError
from harness.priors.learning import (
    CONCENTRATION_REPAIRS,
    NOTHING_LEARNED,
    Confirmed,
    confirmed_on,
    learned,
)
from harness.priors.rates import ROW_OF
from tests.harness.priors.looms import every_kind

repairs = st.builds(
    lambda way, count, place: Confirmed(way[0], way[1], count, place),
    st.sampled_from(sorted(ROW_OF)),
    st.floats(0.1, 50),
    st.sampled_from(["", "tail", "bars"]),
)


@given(history=st.lists(repairs, max_size=12), chance=st.randoms())
def test_the_order_of_the_repairs_does_not_matter(
    history: list[Confirmed], chance: Random
) -> None:
    other = list(history)
    chance.shuffle(other)
    assert learned(other) == learned(history)


@given(history=st.lists(repairs, max_size=12))
def test_every_repair_is_counted_once(history: list[Confirmed]) -> None:
    told = learned(history)
    assert told.repairs == pytest.approx(sum(row.count for row in history))
    assert len({(row.kind, row.mode, row.place) for row in told.history}) == len(
        told.history
    )


def test_no_repairs_teach_nothing() -> None:
    assert learned([]) == NOTHING_LEARNED
    assert NOTHING_LEARNED.repairs == 0.0
    assert NOTHING_LEARNED.concentration_repairs == CONCENTRATION_REPAIRS


def test_plain_mappings_and_rows_are_the_same() -> None:
    rows = [Confirmed("plug", "resistive", 2.0, "tail"), Confirmed("lamp", "dead")]
    plain: list[Mapping[str, object]] = [
        {"kind": "lamp", "mode": "dead"},
        {"kind": "plug", "mode": "resistive", "count": 2, "place": "tail"},
    ]
    assert learned(rows) == learned(plain)


def test_a_repair_on_a_bike_is_known_by_its_segment() -> None:
    h = every_kind()
    assert confirmed_on(h, "device:lamp", "dead") == Confirmed(
        "lamp", "dead", 1.0, "tail"
    )
    assert confirmed_on(h, "wire:03", "open", 0.5) == Confirmed("wire", "open", 0.5, "")
    assert confirmed_on(h, "wire:16", "earthed").kind == "cable"
    assert confirmed_on(h, "relay:relay.coil", "open").kind == "relay-coil"


@pytest.mark.parametrize(
    ("segment", "mode"), [("wire:99", "open"), ("device:lamp", "blown")]
)
def test_a_repair_of_what_the_bike_does_not_have_is_refused(
    segment: str, mode: str
) -> None:
    with pytest.raises(HarnessError):
        confirmed_on(every_kind(), segment, mode)


def test_a_wire_that_had_no_neighbour_to_cross_with_is_refused() -> None:
    h = every_kind()
    with pytest.raises(HarnessError, match="cannot happen"):
        confirmed_on(h, "wire:17", "crossed")


@pytest.mark.parametrize(
    "history",
    [
        [{"kind": "bulb", "mode": "dead"}],
        [{"kind": "lamp", "mode": "blown"}],
        [{"kind": "lamp"}],
        [{"kind": "lamp", "mode": "dead", "count": -1}],
        [{"kind": "lamp", "mode": "dead", "count": float("nan")}],
        [{"kind": "lamp", "mode": "dead", "count": "many"}],
        [{"kind": "lamp", "mode": "dead", "bike": "red"}],
    ],
)
def test_rows_that_are_no_repairs_are_refused_and_say_what_mends_them(
    history: Sequence[dict[str, object]],
) -> None:
    with pytest.raises(HarnessError) as caught:
        learned(history)
    assert caught.value.problems[0].where == "history"
    assert caught.value.problems[0].mend


def test_a_mode_of_another_kind_is_answered_with_those_it_has() -> None:
    with pytest.raises(HarnessError, match="dead, shorted"):
        Confirmed("lamp", "open")


@pytest.mark.parametrize("worth", [0.0, -3.0, float("inf")])
def test_defaults_worth_no_number_of_repairs_are_refused(worth: float) -> None:
    with pytest.raises(HarnessError, match="concentration_repairs"):
        learned([], concentration_repairs=worth)
