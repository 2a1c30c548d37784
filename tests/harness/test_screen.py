"""Estimates of what every pair is worth, from what its members are worth."""

from collections.abc import Mapping
from functools import cache

import numpy as np
import pytest

from harness.circuit import FloatArray
from harness.faults import Fault
from harness.findings import Finding, finding_from
from harness.model import Harness
from harness.predictions import Predictions, predictions_for
from harness.priors import beside_log_odds, log_priors
from harness.screen import Screen
from harness.sets import FaultSet
from harness.weighing import sets_for
from tests.harness.conflict.cases import Given
from tests.harness.explain.hunts import STOP
from tests.harness.explain.hunts import WORKS as TAIL_WORKS
from tests.harness.small_looms import DEAD_HORN, HIGH_RETURN, LEAD_OFF, horn_and_tail

DEAD_STOP: Given = {**STOP, "reads": "dead"}
OHMS: Given = {
    "rig": LEAD_OFF,
    "tool": "ohmmeter",
    "probe": "horn.1",
    "clip": "horn.2",
    "reads": 4.8,
}
OPEN_RETURN, STOP_WIRE = Fault("wire:5", "open"), Fault("wire:10", "open")
MOVED = Fault("wire:10", "open", moved=True)


@cache
def bike() -> Harness:
    return horn_and_tail()


def known() -> Predictions:
    return predictions_for(bike())


def read(*given: Mapping[str, object]) -> list[Finding]:
    return [finding_from(bike(), g, id_=f"f{k}") for k, g in enumerate(given)]


def screened(*given: Mapping[str, object]) -> Screen:
    screen = Screen(known(), log_priors(bike()), beside_log_odds(bike()))
    for finding in read(*given):
        logs = known().log_likelihood(finding)
        screen.add(logs, logs, finding)
    return screen


def row(fault: Fault) -> int:
    return known().faults.index(fault)


def exact(pairs: list[FaultSet], *given: Mapping[str, object]) -> FloatArray:
    """Return what pairs weigh, relative to nothing wrong being its prior."""
    logs = sets_for(bike()).log_likelihood(read(*given), [(), *pairs]).sum(axis=0)
    prior = log_priors(bike())
    both = [sum(prior[row(f)] for f in pair) for pair in pairs]
    out: FloatArray = logs[1:] - logs[0] + both + beside_log_odds(bike())
    return out


def test_before_any_finding_a_pair_weighs_its_prior() -> None:
    screen = screened()
    one, other = row(OPEN_RETURN), row(STOP_WIRE)
    prior = log_priors(bike())
    wanted = float(prior[one] + prior[other]) + beside_log_odds(bike())
    assert screen.weight(one, other) == pytest.approx(wanted, abs=1e-5)
    assert screen.weight(other, one) == screen.weight(one, other)


def test_for_faults_that_do_not_touch_the_same_reading_the_estimate_is_exact() -> None:
    findings: tuple[Given, ...] = (DEAD_HORN, DEAD_STOP, TAIL_WORKS, HIGH_RETURN, OHMS)
    screen = screened(*findings)
    pairs: list[FaultSet] = [
        (STOP_WIRE, OPEN_RETURN),
        (STOP_WIRE, Fault("wire:5", "resistive", 3.0)),
        (Fault("device:rear-lamp.stop", "dead"), OPEN_RETURN),
        (Fault("wire:4", "open"), Fault("wire:9", "open")),
    ]
    for pair, wanted in zip(pairs, exact(pairs, *findings).tolist(), strict=True):
        assert screen.weight(*map(row, pair)) == pytest.approx(wanted, abs=0.02), pair


def test_what_an_open_feed_hides_adds_nothing_to_it_and_takes_nothing_away() -> None:
    findings: tuple[Given, ...] = (DEAD_HORN, DEAD_STOP)
    screen, prior = screened(*findings), log_priors(bike())
    feed, hidden = row(Fault("wire:2", "open")), row(STOP_WIRE)
    wanted = float(exact([(STOP_WIRE, Fault("wire:2", "open"))], *findings)[0])
    assert screen.weight(feed, hidden) == pytest.approx(wanted, abs=0.02)
    beside = beside_log_odds(bike())
    alone = float(prior[feed] + screen.gain[feed] + prior[hidden]) + beside
    assert screen.weight(feed, hidden) == pytest.approx(alone, abs=1e-4)


def test_the_most_promising_come_first_and_none_is_named_twice() -> None:
    screen = screened(DEAD_HORN, DEAD_STOP, TAIL_WORKS)
    best = screen.promising(-np.inf, 6.0, 40)
    pairs = [tuple(pair) for pair in best.tolist()]
    assert len(set(pairs)) == len(pairs) <= 40
    assert all(i < j for i, j in pairs)
    weights = [screen.weight(i, j) for i, j in pairs]
    assert weights == pytest.approx(sorted(weights, reverse=True), abs=1e-5)
    assert max(weights) - min(weights) < 6.0
    assert screen.promising(-np.inf, 6.0, 5).tolist() == best[:5].tolist()
    every = [screen.weight(i, j) for i, j in screen.every().tolist()]
    assert max(every) == max(weights)


def test_pairs_lighter_than_the_best_explanation_by_much_promise_nothing() -> None:
    screen = screened(DEAD_HORN)
    heaviest = max(screen.weight(i, j) for i, j in screen.every().tolist())
    assert screen.promising(heaviest + 50.0, 6.0, 40).size == 0


def test_what_is_hoped_for_lets_a_pair_in_but_adds_no_weight() -> None:
    (finding,) = read(DEAD_HORN)
    logs = known().log_likelihood(finding)
    hoped = Screen(known(), log_priors(bike()), beside_log_odds(bike()))
    most = logs.copy()
    most[row(Fault("battery:battery", "weak", 0.6))] = logs.max()
    hoped.add(logs, most, finding)
    plain = screened(DEAD_HORN)
    pair = sorted([row(Fault("battery:battery", "weak", 0.6)), row(STOP_WIRE)])
    assert hoped.weight(*pair) == plain.weight(*pair)
    assert pair in hoped.promising(-np.inf, 6.0, 5000).tolist()
    assert pair not in plain.promising(-np.inf, 6.0, 5000).tolist()


@pytest.mark.parametrize("findings", [(), (DEAD_HORN, DEAD_STOP, HIGH_RETURN)])
def test_all_pairs_come_to_the_sum_of_their_weights(
    findings: tuple[Mapping[str, object], ...],
) -> None:
    screen = screened(*findings)
    every = screen.every()
    weights = np.array([screen.weight(i, j) for i, j in every.tolist()])
    best = float(weights.max())
    some = every[::7]
    total, by_row = screen.rest(some, best)
    rest = np.ones(len(every), dtype=np.bool_)
    rest[::7] = False
    assert total == pytest.approx(float(np.exp(weights[rest] - best).sum()), rel=1e-4)
    of_rows = np.zeros(len(known().faults))
    for k in (0, 1):
        np.add.at(of_rows, every[rest, k], np.exp(weights[rest] - best))
    assert by_row == pytest.approx(of_rows, rel=1e-3, abs=1e-9)
    nothing, _ = screen.rest(every, best)
    assert nothing == pytest.approx(0.0, abs=1e-6)


def test_a_contact_that_opens_when_moved_adds_nothing_but_its_prior_at_rest() -> None:
    findings: tuple[Given, ...] = (DEAD_HORN, HIGH_RETURN)
    screen = screened(*findings)
    pair = (MOVED, OPEN_RETURN)
    wanted = float(exact([pair], *findings)[0])
    assert screen.weight(*map(row, pair)) == pytest.approx(wanted, abs=1e-4)
    named = screen.promising(-np.inf, 30.0, 10**6)
    assert not any(known().faults[i] == MOVED for pair in named.tolist() for i in pair)
    moving = screened(*findings, {**DEAD_STOP, "moving": True})
    named = moving.promising(-np.inf, 30.0, 10**6)
    assert any(known().faults[i] == MOVED for pair in named.tolist() for i in pair)


def test_a_copy_goes_on_by_itself() -> None:
    screen = screened(DEAD_HORN)
    other = screen.copy()
    (finding,) = read(DEAD_STOP)
    logs = known().log_likelihood(finding)
    other.add(logs, logs, finding)
    one, two = row(OPEN_RETURN), row(STOP_WIRE)
    assert screen.weight(one, two) == screened(DEAD_HORN).weight(one, two)
    assert other.weight(one, two) == screened(DEAD_HORN, DEAD_STOP).weight(one, two)
