"""Which single faults can be true together."""

from itertools import combinations

import numpy as np
import pytest

from harness.faults import Fault
from harness.partners import partners_for
from harness.predictions import predictions_for
from tests.harness.small_looms import horn_and_tail

FAULTS = (
    None,
    Fault("wire:1", "open"),
    Fault("wire:1", "open", moved=True),
    Fault("wire:1", "resistive", 3.0),
    Fault("wire:2", "open"),
    Fault("wire:2", "crossed", other="wire:3"),
    Fault("wire:3", "open"),
    Fault("wire:3", "open", moved=True),
)


def may_join(one: Fault | None, other: Fault | None) -> bool:
    """Return whether two faults are on different segments."""
    if one is None or other is None:
        return False
    return not set(one.segments) & set(other.segments)


@pytest.mark.parametrize(
    "faults", [FAULTS, predictions_for(horn_and_tail()).faults], ids=["few", "loom"]
)
def test_two_faults_never_sit_on_the_same_segment(
    faults: tuple[Fault | None, ...],
) -> None:
    partners = partners_for(faults)
    excluded, upper = partners.excluded(), partners.upper()
    listed = {
        tuple(sorted(partners.rows[[i, j]].tolist()))
        for i, j in np.argwhere(upper & np.isfinite(excluded)).tolist()
    }
    wanted = {
        (i, j)
        for i, j in combinations(range(len(faults)), 2)
        if may_join(faults[i], faults[j])
    }
    assert listed == wanted
    assert partners.count == len(wanted)


def test_nothing_wrong_has_no_place_and_intermittent_contacts_come_last() -> None:
    partners = partners_for(FAULTS)
    assert partners.place[0] == -1
    assert sorted(partners.rows.tolist()) == list(range(1, len(FAULTS)))
    assert partners.place[partners.rows].tolist() == list(range(len(FAULTS) - 1))
    moved = [f.moved for f in (FAULTS[row] for row in partners.rows.tolist()) if f]
    assert moved == sorted(moved)
    assert partners.rested == moved.count(False)


def test_pairs_with_an_intermittent_contact_come_to_the_sum_of_their_products() -> None:
    partners = partners_for(FAULTS)
    weight = np.linspace(0.1, 0.7, len(partners.rows))
    left_out = np.array([[partners.place[2], partners.place[4]]])
    found = partners.with_moved(weight, 0.5, np.sort(left_out))
    by_hand = np.zeros(len(partners.rows))
    for i, j in combinations(range(1, len(FAULTS)), 2):
        one, other = FAULTS[i], FAULTS[j]
        if one is None or other is None or (i, j) == (2, 4):
            continue
        if may_join(one, other) and (one.moved or other.moved):
            a, b = partners.place[i], partners.place[j]
            by_hand[[a, b]] += 0.5 * weight[a] * weight[b]
    assert found == pytest.approx(by_hand)
