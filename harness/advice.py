"""Which test to make next: expected information for each minute of work."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from harness.belief import Belief
from harness.circuit import FloatArray, IntArray
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
from harness.lookahead import SECOND, Candidate, bits_of_ways, look_ahead, merged
from harness.minutes import Surroundings, minutes_for
from harness.model import Harness
from harness.moves import move_blocks
from harness.offered import Block, offered_for
from harness.predictions import lead_off
from harness.rig import Rig
from harness.sets import Sets
from harness.suspects import Suspects, considered, suspects_in, ways_of

LEAST_BITS = 0.03
KEEP_PER_BLOCK = 12
PAYS_MINUTES = 0.25


@dataclass(frozen=True)
class Ranked:
    """A test worth making.

    Attributes
    ----------
    groups : ndarray of intp, shape (m,)
        Which outcome each hypothesis considered leads to.
    shown : ndarray of float, shape (m,)
        What the test would show under each of them.
    worth : float
        Bits for each minute.
    then : Test or None
        What to make next after the likeliest outcome.
    """

    test: Test
    bits: float
    minutes: float
    groups: NDArray[np.intp]
    shown: FloatArray
    worth: float
    then: Test | None = None


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


@dataclass(frozen=True)
class Survey:
    """All offered tests, looked at once for a belief.

    Attributes
    ----------
    ranked : tuple of Ranked
        The tests worth making, one for each way of dividing: the first few in the order
        of the minutes that the whole hunt will take, then by bits a minute.
    rows : ndarray of intp, shape (m,)
        The hypotheses considered.
    alike : ndarray of intp, shape (m,)
        Equal for hypotheses that no offered test tells apart.
    """

    belief: Belief
    ranked: tuple[Ranked, ...]
    rows: IntArray
    alike: NDArray[np.intp]

    @cached_property
    def suspects(self) -> Suspects:
        """The likeliest explanation, and what no offered test tells apart from it."""
        return suspects_in(self.belief, self.rows, self.alike)


def survey(sets: Sets, belief: Belief, around: Surroundings) -> Survey:
    """Look at every offered test.

    Parameters
    ----------
    sets : Sets
    belief : Belief
    around : Surroundings
    """
    rows, weight = considered(belief)
    best: dict[bytes, Ranked] = {}
    signature = np.zeros(len(rows), dtype=np.uint64)
    for block, shown, groups, weigh in _looked_at(sets, belief, rows, weight):
        divides = np.flatnonzero(groups.max(axis=0) > groups.min(axis=0))
        if not divides.size:
            continue
        signature = _mixed(signature, groups[:, divides])
        bits = weigh(divides, weight)
        for candidate in _worthwhile(
            sets.predictions.h, block, (shown, groups), (divides, bits), around
        ):
            key = candidate.groups.tobytes()
            if key not in best or candidate.worth > best[key].worth:
                best[key] = candidate
    _, alike = np.unique(signature, return_inverse=True)
    alike = np.asarray(alike, dtype=np.intp)
    ways = merged(ways_of([belief.sets[row] for row in rows.tolist()]), alike)
    ranked = sorted(best.values(), key=_by_worth)
    ranked = _ahead(sets.predictions.h, ranked, ways, weight, around)
    return Survey(belief, tuple(ranked), rows, alike)


def _by_worth(ranked: Ranked) -> tuple[float, float, tuple[str, ...]]:
    test = ranked.test
    name = (test.tool, test.probe, test.clip, test.device, test.wire)
    return (-ranked.worth, ranked.minutes, name)


def _ahead(
    h: Harness,
    ranked: list[Ranked],
    ways: NDArray[np.intp],
    weight: FloatArray,
    around: Surroundings,
) -> list[Ranked]:
    """Rank anew by what the tests tell of explanations, two tests ahead."""
    weighed = []
    for one in ranked[:SECOND]:
        known = bits_of_ways(one.groups, ways, weight)
        by_row = bits_of_ways(one.groups, np.arange(len(weight)), weight)
        bits = one.bits * known / by_row if by_row > 0.0 else 0.0
        if bits >= LEAST_BITS:
            weighed.append(replace(one, bits=bits, worth=bits / one.minutes))
    weighed.sort(key=_by_worth)
    asked = [Candidate(r.test, r.bits, r.minutes, r.groups) for r in weighed]
    if not asked:
        return []
    seen = look_ahead(h, asked, ways, weight, around)
    first = [
        (ahead.minutes, replace(one, then=_test_of(weighed, ahead.then)))
        for one, ahead in zip(weighed, seen, strict=False)
    ]
    # The best by itself stays first unless another saves at least this much.
    first[0] = (first[0][0] - PAYS_MINUTES, first[0][1])
    first.sort(key=lambda item: (item[0], _by_worth(item[1])))
    return [*(one for _, one in first), *weighed[len(first) :], *ranked[SECOND:]]


def _test_of(ranked: list[Ranked], number: int | None) -> Test | None:
    return None if number is None else ranked[number].test


def _looked_at(
    sets: Sets, belief: Belief, rows: IntArray, weight: FloatArray
) -> Iterator[tuple[Block, FloatArray, NDArray[np.intp], Weigh]]:
    h = sets.predictions.h
    offered = offered_for(h)
    wanted = [belief.sets[row] for row in rows.tolist()]
    blocks = [b for rig in rigs_considered(h) for b in offered.blocks(rig)]
    for block in (*blocks, *move_blocks(h, wanted, weight)):
        shown = block.read(sets, wanted)
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
    tests = [block.tests[i] for i in divides.tolist()]
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
                worth=float(worth[i]),
            )
