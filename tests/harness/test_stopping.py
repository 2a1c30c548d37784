"""When changing the suspect part is worth more than another test."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness.segments import segments_of
from harness.stopping import CHANGE_MINUTES, Costs, Stop, weigh_stopping
from tests.harness.library import EVERY_LOOM, loom

SUSPECTS, WASTED = np.array([0.7, 0.3]), np.array([60.0, 60.0])


def test_a_perfect_test_is_worth_what_acting_now_would_waste() -> None:
    # Value of information (Howard 1966), check value G14: calc.
    part, waste, saved = weigh_stopping(np.eye(2), WASTED, np.array([0, 1]), SUSPECTS)
    assert part == 0
    assert waste == pytest.approx(18.0)
    assert saved == pytest.approx(18.0)


def stop(test_cost: float, *, saved: float = 18.0) -> Stop:
    return Stop("wire:1", 0.7, 18.0, saved, test_cost, hunt_cost=40.0)


def test_a_test_for_five_is_made_and_one_for_twenty_is_not() -> None:
    # G14 again: worth 18, so a 5 test is taken and a 20 one is not.
    assert not stop(5.0).stop
    assert stop(20.0).stop


def test_a_guess_that_saves_less_of_the_hunt_than_it_wastes_is_not_made() -> None:
    unlikely = Stop("wire:1", 0.17, 8.3, 0.1, 5.0, hunt_cost=14.0)
    assert not unlikely.stop


def test_a_test_that_parts_nothing_is_worth_nothing() -> None:
    _, _, saved = weigh_stopping(np.eye(2), WASTED, np.array([0, 0]), SUSPECTS)
    assert saved == pytest.approx(0.0)


def test_the_cheaper_part_is_changed_first_where_it_wastes_less() -> None:
    part, waste, _ = weigh_stopping(
        np.eye(2), np.array([100.0, 5.0]), np.array([0, 1]), SUSPECTS
    )
    assert part == 1
    assert waste == pytest.approx(3.5)


@given(
    st.lists(st.floats(0.01, 1.0), min_size=2, max_size=6),
    st.integers(0, 2**12),
)
def test_a_test_never_makes_acting_dearer(weights: list[float], split: int) -> None:
    p = np.array(weights) / sum(weights)
    groups = np.array([(split >> i) & 1 for i in range(len(p))])
    cost = np.linspace(10.0, 40.0, len(p))
    _, waste, saved = weigh_stopping(np.eye(len(p)), cost, groups, p)
    assert -1e-9 <= saved <= waste + 1e-9


@pytest.mark.parametrize("file", EVERY_LOOM)
def test_every_segment_has_minutes_for_changing_it(file: str) -> None:
    costs = Costs(a_minute=2.0)
    for segment in segments_of(loom(file)).values():
        expected = 2.0 * CHANGE_MINUTES[segment.kind]
        assert costs.of_changing(segment.name) == pytest.approx(expected)


def test_the_price_of_a_part_counts_with_the_labour() -> None:
    costs = Costs(a_minute=1.0, parts={"fuse:main-fuse": 0.5})
    assert costs.of_changing("fuse:main-fuse") == pytest.approx(2.5)
