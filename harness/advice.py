"""Which test to make next: expected information for each minute of work.

Minutes are our own judgement (common practice, no source): a base for each tool, a
little for each switch moved, and the access minutes of places not yet open.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from harness.belief import Belief
from harness.consumers import ordinary_rigs
from harness.findings import Test, is_fuse
from harness.information import (
    APART,
    WORDS_APART,
    clusters,
    gain_of_groups,
    gain_of_words,
)
from harness.likelihood import (
    eye_chances,
    fuse_chances,
    lamp_chances,
    ohm_scale,
    volt_scale,
)
from harness.model import Harness
from harness.network import FloatArray, IntArray
from harness.offered import Block, blocks_in
from harness.predictions import Predictions, lead_off
from harness.rig import Rig

TOOL_MINUTES = {"test-lamp": 1.0, "voltmeter": 1.1, "ohmmeter": 1.3, "eye": 0.5}
SWITCH_MINUTES = 0.1
ENGINE_MINUTES = 1.5
LEAD_MINUTES = 2.0
CONSIDERED = 1e-3
MOST_CONSIDERED = 160
LEAST_BITS = 0.03
# What is known to be nearly settled is not told apart any further.
ISOLATED = 0.95


@dataclass(frozen=True)
class Ranked:
    """A test worth making.

    Attributes
    ----------
    groups : ndarray of intp, shape (m,)
        Which outcome each hypothesis considered leads to.
    shown : ndarray of float, shape (m,)
        What the test would show under each of them.
    """

    test: Test
    bits: float
    minutes: float
    groups: NDArray[np.intp]
    shown: FloatArray

    @property
    def worth(self) -> float:
        """Bits for each minute."""
        return self.bits / self.minutes


@dataclass(frozen=True)
class Surroundings:
    """Where the work stands: the rig as it is and the places already open."""

    rig: Rig
    open_places: frozenset[str]
    taken: frozenset[Test]


def considered(belief: Belief) -> tuple[IntArray, FloatArray]:
    """Return the hypotheses still worth telling apart, and their weights."""
    p = belief.probability
    rows = np.flatnonzero(p > CONSIDERED * p.max())
    if rows.size > MOST_CONSIDERED:
        rows = np.sort(rows[np.argsort(-p[rows], kind="stable")[:MOST_CONSIDERED]])
    weight: FloatArray = p[rows] / p[rows].sum()
    return rows, weight


def rigs_considered(h: Harness) -> tuple[Rig, ...]:
    """Return the ordinary rigs, then the battery lead lifted."""
    return (*ordinary_rigs(h), lead_off(h))


def outcome_groups(
    h: Harness, block: Block, shown: FloatArray
) -> tuple[NDArray[np.intp], Callable[[IntArray, FloatArray], FloatArray]]:
    """Return the outcome of each hypothesis and test, and how to weigh some tests.

    The second value takes test numbers and weights to bits.
    """
    if block.tool in {"voltmeter", "ohmmeter"}:
        scale = volt_scale if block.tool == "voltmeter" else ohm_scale
        groups = clusters(scale(shown), APART)
        return groups, lambda some, weight: gain_of_groups(groups[:, some], weight)
    if block.tool == "test-lamp":
        chances = lamp_chances(shown, h.volts)
    elif is_fuse(h, block.devices[0]):
        chances = fuse_chances(shown)
    else:
        chances = eye_chances(shown)
    groups = clusters(chances[-1] - chances[0], WORDS_APART)
    return groups, lambda some, weight: gain_of_words(chances[:, :, some], weight)


def minutes_for(h: Harness, test: Test, around: Surroundings) -> float:
    """Return the minutes that a test costs from where the work stands."""
    now, rig = dict(around.rig.moved), dict(test.rig.moved)
    moves = sum(now.get(switch) != rig.get(switch) for switch in sorted({*now, *rig}))
    minutes = TOOL_MINUTES[test.tool] + SWITCH_MINUTES * moves
    if test.rig.engine == "running" and around.rig.engine != "running":
        minutes += ENGINE_MINUTES
    if test.rig.battery_lead != around.rig.battery_lead:
        minutes += LEAD_MINUTES
    for place in sorted(places_of(h, test) - around.open_places):
        minutes += h.places[place].access_minutes
    return minutes


def places_of(h: Harness, test: Test) -> frozenset[str]:
    """Return the places that must be open for a test."""
    if test.tool == "eye":
        if not is_fuse(h, test.device):
            return frozenset()
        named = [test.device]
    else:
        named = [terminal.partition(".")[0] for terminal in (test.probe, test.clip)]
    places = (h.devices[device].place for device in named)
    return frozenset(place for place in places if place is not None)


def rank(
    predictions: Predictions, belief: Belief, around: Surroundings, limit: int
) -> list[Ranked]:
    """Return the tests worth most for each minute, one for each way of dividing.

    Parameters
    ----------
    predictions : Predictions
    belief : Belief
    around : Surroundings
    limit : int
        How many at most.
    """
    rows, weight = considered(belief)
    best: dict[bytes, Ranked] = {}
    for candidate in _candidates(predictions, rows, weight, around):
        key = candidate.groups.tobytes()
        if key not in best or candidate.worth > best[key].worth:
            best[key] = candidate
    ranked = sorted(
        best.values(),
        key=lambda r: (-r.worth, r.minutes, _name(r.test)),
    )
    return ranked[:limit]


def _name(test: Test) -> tuple[str, str, str, str]:
    return (test.tool, test.probe, test.clip, test.device)


KEEP_PER_BLOCK = 12


def _candidates(
    predictions: Predictions,
    rows: IntArray,
    weight: FloatArray,
    around: Surroundings,
) -> Iterator[Ranked]:
    h = predictions.h
    for rig in rigs_considered(h):
        for block in blocks_in(h, rig):
            shown = block.rows(predictions, rows)
            groups, weigh = outcome_groups(h, block, shown)
            divides = np.flatnonzero(groups.max(axis=0) > groups.min(axis=0))
            if not divides.size:
                continue
            bits = weigh(divides, weight)
            tests = [block.test(i) for i in divides.tolist()]
            minutes = np.array([minutes_for(h, test, around) for test in tests])
            worth = np.where(bits >= LEAST_BITS, bits / minutes, 0.0)
            for i in np.argsort(-worth, kind="stable")[:KEEP_PER_BLOCK].tolist():
                if worth[i] <= 0.0:
                    break
                if tests[i] in around.taken:
                    continue
                column = divides[i]
                yield Ranked(
                    test=tests[i],
                    bits=float(bits[i]),
                    minutes=float(minutes[i]),
                    groups=np.ascontiguousarray(groups[:, column]),
                    shown=shown[:, column],
                )


def indistinct(predictions: Predictions, rows: IntArray) -> NDArray[np.intp]:
    """Give hypotheses numbers so that those which no offered test tells apart are equal.

    Returns
    -------
    ndarray of intp, shape (len(rows),)
    """
    h = predictions.h
    signature = np.zeros(len(rows), dtype=np.uint64)
    for rig in rigs_considered(h):
        for block in blocks_in(h, rig):
            groups, _ = outcome_groups(h, block, block.rows(predictions, rows))
            with np.errstate(over="ignore"):
                for column in range(groups.shape[1]):
                    if groups[:, column].any():
                        signature = signature * np.uint64(1099511628211) + (
                            groups[:, column].astype(np.uint64) + np.uint64(1469598103)
                        )
    _, numbers = np.unique(signature, return_inverse=True)
    return np.asarray(numbers, dtype=np.intp)
