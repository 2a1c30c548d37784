"""Which faults are rehearsed: those noticed, pairs that both show, all by chance."""

from collections import Counter
from functools import cache

import numpy as np
import pytest

from harness.faults import Fault
from harness.predictions import predictions_for
from harness.priors import log_priors
from harness.rehearsal.chosen import (
    as_they_come,
    noticeable_pairs,
    noticeable_singles,
    rested_singles,
    rows_of,
    some_of,
)
from harness.rehearsal.report import Reports
from harness.sets import FaultSet
from harness.weighing import Weighing, sets_for
from tests.harness.small_looms import horn_and_tail


@cache
def noticed() -> dict[FaultSet, float]:
    return dict(noticeable_singles(horn_and_tail()))


def words(*bikes: FaultSet) -> list[list[int]]:
    reports = Reports.of(sets_for(horn_and_tail()), list(bikes))
    out: list[list[int]] = reports.words.T.tolist()
    return out


def test_all_but_what_shows_only_when_moved_is_there_at_rest() -> None:
    h = horn_and_tail()
    singles = dict(rested_singles(h))
    everything = [f for f in predictions_for(h).faults if f is not None]
    assert list(singles) == [(f,) for f in everything if not f.moved]
    prior = np.exp(log_priors(h))
    (first,) = next(iter(singles))
    assert singles[(first,)] == pytest.approx(prior[1 + everything.index(first)])


def test_only_what_changes_the_report_is_noticeable() -> None:
    (sound,) = words(())
    for faults, report in zip(noticed(), words(*noticed()), strict=True):
        assert report != sound, faults
    dead = {f.segment for (f,) in noticed() if f.mode == "dead"}
    assert {"device:horn", "device:rear-lamp.stop", "device:rear-lamp.tail"} <= dead
    others = [s for s, _ in rested_singles(horn_and_tail()) if s not in noticed()]
    assert all(report == sound for report in words(*others))


def test_a_bad_contact_too_slight_for_the_eye_is_not_noticed() -> None:
    # 0.3 ohm in the tail lamp's wire takes a fortieth of its volts.
    assert (Fault("wire:6", "resistive", 0.3),) not in noticed()
    assert (Fault("wire:6", "resistive", 30.0),) in noticed()


def test_of_a_pair_each_fault_changes_what_the_other_alone_would_show() -> None:
    pairs = noticeable_pairs(horn_and_tail(), 30, seed=4)
    assert len(set(pairs)) == len(pairs) == 30
    for one, other in pairs:
        alone, second, both = words((one,), (other,), (one, other))
        assert both not in (alone, second)
        assert not set(one.segments) & set(other.segments)


def test_the_same_seed_draws_the_same_pairs() -> None:
    h = horn_and_tail()
    assert noticeable_pairs(h, 12, seed=4) == noticeable_pairs(h, 12, seed=4)
    assert noticeable_pairs(h, 12, seed=4) != noticeable_pairs(h, 12, seed=5)


def test_some_are_drawn_by_their_priors_and_then_count_alike() -> None:
    weighed: list[tuple[FaultSet, float]] = [
        ((Fault("wire:1", "open"),), 0.6),
        ((Fault("wire:2", "open"),), 0.3),
        ((Fault("wire:3", "open"),), 0.1),
        ((Fault("wire:4", "open"),), 1e-9),
    ]
    drawn = some_of(weighed * 50, 100, seed=1)
    assert {weight for _, weight in drawn} == {1.0}
    counts = Counter(f.segment for (f,), _ in drawn)
    # At even steps through the sum: never more than one off for each of the fifty.
    assert counts["wire:1"] == pytest.approx(60, abs=5)
    assert counts["wire:2"] == pytest.approx(30, abs=5)
    assert counts["wire:4"] == 0
    assert some_of(weighed, 4, seed=1) == weighed


def test_bikes_come_as_the_engine_thinks_they_do() -> None:
    h = horn_and_tail()
    bikes = as_they_come(h, 2000, seed=3)
    belief = Weighing(h, all_pairs=10**6).belief()
    expected = dict.fromkeys((0, 1, 2), 0.0)
    for faults, p in zip(belief.sets, belief.probability.tolist(), strict=True):
        expected[len(faults)] += p
    counts = Counter(len(faults) for faults in bikes)
    for size, share in expected.items():
        assert counts[size] / 2000 == pytest.approx(share, abs=0.001), size
    segments = Counter(f.segment for faults in bikes for f in faults)
    for name, share in belief.by_segment().items():
        away = 5 * (share / 2000) ** 0.5 + 1e-3
        assert segments[name] / 2000 == pytest.approx(share, abs=away), name
    assert as_they_come(h, 50, seed=3) == as_they_come(h, 50, seed=3)


def test_single_faults_have_their_row_among_the_hypotheses() -> None:
    h = horn_and_tail()
    rows = rows_of(h, list(noticed()))
    faults = predictions_for(h).faults
    assert [(faults[row],) for row in rows.tolist()] == list(noticed())
