"""Which test to make next: expected information for each minute of work.

Minutes are our own judgement (common practice, no source): a base for each tool, a
little for each switch moved, and the access minutes of places not yet open.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from harness.belief import Belief
from harness.circuit import FloatArray, IntArray
from harness.consumers import ordinary_rigs
from harness.findings import Finding, Test, is_fuse
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
from harness.offered import Block, offered_for
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


def surroundings(h: Harness, findings: Sequence[Finding]) -> Surroundings:
    """Return where the work stands after some findings."""
    open_places: frozenset[str] = frozenset()
    for finding in findings:
        open_places |= places_of(h, finding.test)
    rig = findings[-1].test.rig if findings else Rig()
    taken = frozenset(finding.test for finding in findings)
    return Surroundings(rig=rig, open_places=open_places, taken=taken)


def isolation(belief: Belief, seen: "Survey") -> tuple[tuple[str, ...], float] | None:
    """Return the segments that are it, and their joint probability, once they are.

    They are those of the likeliest fault and of all that no offered test tells apart
    from it; together they stand at 0.95 or more.
    """
    p = belief.probability
    top = int(p.argmax())
    if belief.faults[top] is None:
        return None
    alike = seen.rows[seen.alike == seen.alike[seen.rows == top]]
    names = {f.segment for f in (belief.faults[r] for r in alike) if f is not None}
    total = sum(share for name, share in belief.by_segment().items() if name in names)
    return (tuple(sorted(names)), total) if total >= ISOLATED else None


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


Weigh = Callable[[IntArray, FloatArray], FloatArray]


def outcome_groups(
    h: Harness, block: Block, shown: FloatArray
) -> tuple[NDArray[np.intp], Weigh]:
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


KEEP_PER_BLOCK = 12


@dataclass(frozen=True)
class Survey:
    """All offered tests, looked at once for a belief.

    Attributes
    ----------
    ranked : tuple of Ranked
        The tests worth most for each minute, one for each way of dividing.
    rows : ndarray of intp, shape (m,)
        The hypotheses considered.
    alike : ndarray of intp, shape (m,)
        Equal for hypotheses that no offered test tells apart.
    """

    ranked: tuple[Ranked, ...]
    rows: IntArray
    alike: NDArray[np.intp]


def survey(predictions: Predictions, belief: Belief, around: Surroundings) -> Survey:
    """Look at every offered test.

    Parameters
    ----------
    predictions : Predictions
    belief : Belief
    around : Surroundings
    """
    rows, weight = considered(belief)
    best: dict[bytes, Ranked] = {}
    signature = np.zeros(len(rows), dtype=np.uint64)
    for block, shown, groups, weigh in _looked_at(predictions, rows):
        divides = np.flatnonzero(groups.max(axis=0) > groups.min(axis=0))
        if not divides.size:
            continue
        signature = _mixed(signature, groups[:, divides])
        bits = weigh(divides, weight)
        for candidate in _worthwhile(
            predictions.h, block, (shown, groups), (divides, bits), around
        ):
            key = candidate.groups.tobytes()
            if key not in best or candidate.worth > best[key].worth:
                best[key] = candidate
    ranked = sorted(best.values(), key=lambda r: (-r.worth, r.minutes, _name(r.test)))
    _, alike = np.unique(signature, return_inverse=True)
    return Survey(tuple(ranked), rows, np.asarray(alike, dtype=np.intp))


def _name(test: Test) -> tuple[str, str, str, str]:
    return (test.tool, test.probe, test.clip, test.device)


def _looked_at(
    predictions: Predictions, rows: IntArray
) -> Iterator[tuple[Block, FloatArray, NDArray[np.intp], Weigh]]:
    h = predictions.h
    offered = offered_for(h)
    for rig in rigs_considered(h):
        for block in offered.blocks(rig):
            shown = block.rows(predictions, rows)
            groups, weigh = outcome_groups(h, block, shown)
            yield block, shown, groups, weigh


def _mixed(
    signature: NDArray[np.uint64], groups: NDArray[np.intp]
) -> NDArray[np.uint64]:
    """Mix the outcomes of more tests into each hypothesis's signature.

    A sum of outcomes times fixed odd multipliers: equal outcomes give equal sums, and
    unequal ones equal sums once in about 2**64.
    """
    steps = np.arange(1, groups.shape[1] + 1, dtype=np.uint64)
    with np.errstate(over="ignore"):
        multipliers = (steps * _ODD) ^ (steps * _ODD >> np.uint64(29)) | np.uint64(1)
        multipliers *= _ODD
        added = (groups.astype(np.uint64) * multipliers).sum(axis=1, dtype=np.uint64)
        out: NDArray[np.uint64] = signature * _ODD + added
    return out


_ODD = np.uint64(0x9E3779B97F4A7C15)


def _worthwhile(
    h: Harness,
    block: Block,
    seen: tuple[FloatArray, NDArray[np.intp]],
    dividing: tuple[IntArray, FloatArray],
    around: Surroundings,
) -> Iterator[Ranked]:
    """Yield the best of a block's tests, those already made left out."""
    shown, groups = seen
    divides, bits = dividing
    tests = [block.test(i) for i in divides.tolist()]
    minutes = np.array([minutes_for(h, test, around) for test in tests])
    worth = np.where(bits >= LEAST_BITS, bits / minutes, 0.0)
    for i in np.argsort(-worth, kind="stable")[:KEEP_PER_BLOCK].tolist():
        if worth[i] > 0.0 and tests[i] not in around.taken:
            column = divides[i]
            yield Ranked(
                test=tests[i],
                bits=float(bits[i]),
                minutes=float(minutes[i]),
                groups=np.ascontiguousarray(groups[:, column]),
                shown=shown[:, column],
            )
