"""Which explanations no offered test tells apart, and whether they are it."""

from math import log

import numpy as np
import pytest

from harness.belief import NO_REST, Belief, Rest
from harness.faults import Fault
from harness.sets import FaultSet
from harness.suspects import (
    CONSIDERED,
    ISOLATED,
    MOST_CONSIDERED,
    NOTHING_MORE,
    Suspects,
    considered,
    suspects_in,
    ways_of,
)

OPEN_1, OPEN_2, OPEN_3 = (Fault(f"wire:{k}", "open") for k in (1, 2, 3))
BAD_1 = Fault("wire:1", "resistive", 3.0)


def believed(shares: dict[FaultSet, float], rest: Rest = NO_REST) -> Belief:
    logs = np.log(np.array(list(shares.values())))
    return Belief(tuple(shares), logs, (), np.zeros((0, len(shares))), rest)


def found(shares: dict[FaultSet, float], *alike: int, rest: Rest = NO_REST) -> Suspects:
    """Return the suspects, all rows considered; `alike` has equal numbers for those."""
    rows = np.arange(len(shares), dtype=np.intp)
    return suspects_in(believed(shares, rest), rows, np.array(alike, dtype=np.intp))


def test_segments_that_no_test_tells_apart_are_suspect_together() -> None:
    suspects = found(
        {(): 0.01, (OPEN_1,): 0.5, (OPEN_2,): 0.47, (OPEN_3,): 0.02}, 0, 1, 1, 2
    )
    assert suspects.segments == ("wire:1", "wire:2")
    assert suspects.probability == pytest.approx(0.97)
    assert suspects.alike == ((OPEN_1,), (OPEN_2,))
    assert suspects.isolated
    assert suspects.hold((OPEN_2,))
    assert not suspects.hold((OPEN_3,))
    assert not suspects.hold(())


def test_until_they_stand_at_ninety_five_in_a_hundred_the_hunt_is_on() -> None:
    suspects = found(
        {(): 0.02, (OPEN_1,): 0.5, (OPEN_2,): 0.44, (OPEN_3,): 0.04}, 0, 1, 1, 2
    )
    assert suspects.probability == pytest.approx(0.94)
    assert not suspects.isolated
    assert ISOLATED == 0.95


def test_another_way_for_the_same_segment_to_be_bad_is_nothing_more() -> None:
    # Open or of bad contact, wire 1 it is.
    suspects = found({(): 0.01, (OPEN_1,): 0.85, (BAD_1,): 0.14}, 0, 1, 2)
    assert suspects.segments == ("wire:1",)
    assert suspects.probability == pytest.approx(0.99)
    assert suspects.nothing_more == pytest.approx(1.0)
    assert suspects.isolated


def test_a_second_fault_that_is_likely_keeps_the_hunt_going() -> None:
    shares = {(): 0.001, (OPEN_1,): 0.8, (OPEN_1, OPEN_3): 0.199}
    suspects = found(shares, 0, 1, 2)
    assert suspects.probability == pytest.approx(0.999)
    assert suspects.nothing_more == pytest.approx(0.8 / 0.999)
    assert suspects.nothing_more < NOTHING_MORE
    assert not suspects.isolated


def test_of_two_faults_both_are_suspect() -> None:
    suspects = found({(): 0.001, (OPEN_1,): 0.009, (OPEN_1, OPEN_3): 0.99}, 0, 1, 2)
    assert suspects.segments == ("wire:1", "wire:3")
    assert suspects.probability == pytest.approx(0.99)
    assert suspects.isolated
    assert suspects.hold((OPEN_3,))


def test_what_is_only_estimated_counts_for_the_segment() -> None:
    rest = Rest(log(0.1), {"wire:1": 0.9, "wire:2": 0.6, "wire:3": 0.5})
    suspects = found({(): 0.01, (OPEN_1,): 0.87, (OPEN_2,): 0.02}, 0, 1, 2, rest=rest)
    assert suspects.probability == pytest.approx(0.87 + 0.1 * 0.9)


def test_where_nothing_wrong_is_the_likeliest_there_are_no_suspects() -> None:
    suspects = found({(): 0.97, (OPEN_1,): 0.03}, 0, 1)
    assert suspects.segments == ()
    assert suspects.probability == pytest.approx(0.97)
    assert not suspects.isolated
    assert suspects.hold(())
    assert not suspects.hold((OPEN_1,))


def test_bits_are_those_of_the_classes_and_not_of_their_members() -> None:
    four = {(): 0.25, (OPEN_1,): 0.26, (OPEN_2,): 0.24, (OPEN_3,): 0.25}
    assert found(four, 0, 1, 2, 3).entropy_bits == pytest.approx(2.0, abs=1e-3)
    assert found(four, 0, 0, 1, 1).entropy_bits == pytest.approx(1.0, abs=1e-3)
    assert found(four, 0, 0, 0, 0).entropy_bits == pytest.approx(0.0, abs=1e-9)


def test_what_is_nearly_ruled_out_is_not_told_apart() -> None:
    # As likely as the limit and a tenth off it either way.
    limit = CONSIDERED * 0.9
    shares = {(): 0.9, (OPEN_1,): 1.1 * limit, (OPEN_2,): 0.9 * limit}
    rows, weight = considered(believed(shares))
    assert rows.tolist() == [0, 1]
    assert float(weight.sum()) == pytest.approx(1.0)


def test_of_very_many_the_likeliest_are_told_apart() -> None:
    many: dict[FaultSet, float] = {
        (Fault(f"wire:{k}", "open"),): 1.0 + k / 1000 for k in range(400)
    }
    rows, weight = considered(believed(many))
    assert rows.tolist() == list(range(400 - MOST_CONSIDERED, 400))
    assert weight.shape == (MOST_CONSIDERED,)


def test_sizes_of_a_bad_contact_are_one_way_and_neighbours_are_not() -> None:
    sizes = [(Fault("wire:1", "resistive", r),) for r in (0.3, 3.0)]
    crossed = [(Fault("wire:1", "crossed", other=o),) for o in ("wire:2", "wire:3")]
    assert ways_of([(), *sizes, *crossed, ()]).tolist() == [0, 1, 1, 2, 3, 0]
