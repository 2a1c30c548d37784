"""Two tests ahead: what the next one opens the way to."""

import numpy as np
import pytest

from harness.findings import Test
from harness.lookahead import Candidate, bits_of_ways, look_ahead, merged
from harness.minutes import Surroundings
from harness.model import Harness
from harness.rig import Rig, rig_from
from tests.harness.small_looms import horn_and_tail

H: Harness = horn_and_tail()
AROUND = Surroundings(Rig(), frozenset(), frozenset())
EVEN = np.full(4, 0.25)
EACH = np.arange(4)


def candidate(probe: str, groups: list[int], minutes: float = 2.0) -> Candidate:
    labels = np.array(groups)
    test = Test(rig_from(H, {}), "voltmeter", probe, "frame.horn")
    return Candidate(test, bits_of_ways(labels, EACH, EVEN), minutes, labels)


def test_four_suspects_cost_two_bits() -> None:
    assert bits_of_ways(EACH, EACH, EVEN) == pytest.approx(2.0)
    assert bits_of_ways(np.array([0, 0, 1, 1]), EACH, EVEN) == pytest.approx(1.0)


def test_sizes_of_one_bad_contact_are_no_news() -> None:
    ways = np.array([0, 0, 1, 1])
    assert bits_of_ways(np.array([0, 1, 0, 1]), ways, EVEN) == pytest.approx(0.0)
    assert bits_of_ways(np.array([0, 0, 1, 1]), ways, EVEN) == pytest.approx(1.0)


def test_what_is_equal_in_either_is_one() -> None:
    assert merged(np.array([0, 0, 1, 2]), np.array([0, 1, 1, 2])).tolist() == [
        0, 0, 0, 1,
    ]  # fmt: skip
    assert merged(np.array([0, 1, 2]), np.array([0, 1, 2])).tolist() == [0, 1, 2]


def test_after_an_even_split_the_other_even_split_comes_next() -> None:
    halves = candidate("horn.1", [0, 0, 1, 1])
    crosswise = candidate("horn.2", [0, 1, 0, 1])
    again = candidate("main-fuse.1", [0, 0, 1, 1])
    ahead = look_ahead(H, [halves, crosswise, again], EACH, EVEN, AROUND)
    assert ahead[0].then == 1


def test_a_hunt_that_one_test_ends_has_nothing_to_follow() -> None:
    everything = candidate("horn.1", [0, 1, 2, 3])
    halves = candidate("horn.2", [0, 0, 1, 1])
    ahead = look_ahead(H, [everything, halves], EACH, EVEN, AROUND)
    assert ahead[0].then is None
    assert ahead[0].minutes == pytest.approx(everything.minutes)


def test_of_two_even_splits_the_cheaper_one_makes_the_shorter_hunt() -> None:
    cheap = candidate("horn.1", [0, 0, 1, 1])
    dear = candidate("horn.2", [0, 1, 0, 1], minutes=9.0)
    ahead = look_ahead(H, [cheap, dear], EACH, EVEN, AROUND)
    assert ahead[0].minutes < ahead[1].minutes
