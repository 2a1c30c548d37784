"""Which faults are rehearsed: those that a rider would notice, or what may happen."""

from collections.abc import Sequence

import numpy as np

from harness.belief import sorted_set
from harness.circuit import BoolArray, FloatArray, IntArray
from harness.model import Harness
from harness.predictions import predictions_for
from harness.priors import Priors, Rates, beside_log_odds, log_priors
from harness.rehearsal.report import Reports
from harness.segments import Fault
from harness.sets import FaultSet
from harness.weighing import sets_for

# How many pairs are drawn at a time, and how often before there are enough.
DRAWN, ATTEMPTS = 400, 20


def rested_singles(h: Harness) -> list[tuple[FaultSet, float]]:
    """Return every single fault that is there while nothing moves, with its prior."""
    prior = np.exp(log_priors(h))
    return [
        ((fault,), float(p))
        for fault, p in zip(predictions_for(h).faults, prior, strict=True)
        if fault is not None and not fault.moved
    ]


def noticeable_singles(h: Harness) -> list[tuple[FaultSet, float]]:
    """Return every single fault that a rider would notice, with its prior."""
    singles = rested_singles(h)
    reports = Reports.of(sets_for(h), [(), *(faults for faults, _ in singles)])
    differs = (reports.words != reports.words[:, :1]).any(axis=0) & reports.steady
    return [singles[i - 1] for i in np.flatnonzero(differs).tolist()]


def some_of(
    weighed: Sequence[tuple[FaultSet, float]], count: int, seed: int
) -> list[tuple[FaultSet, float]]:
    """Return so many faults drawn by their priors, each now with the same weight.

    Drawn at even steps through the summed priors, so that the means come closer to
    those of all of them than with every draw on its own. With no more faults than
    wanted, all of them as they are.
    """
    if len(weighed) <= count:
        return list(weighed)
    weight = np.array([w for _, w in weighed])
    random = np.random.default_rng(seed)
    order = random.permutation(len(weighed))
    reached = np.cumsum(weight[order]) / weight.sum()
    at = (np.arange(count) + random.random()) / count
    places = np.minimum(np.searchsorted(reached, at), len(weighed) - 1)
    return [(weighed[order[i]][0], 1.0) for i in places.tolist()]


def noticeable_pairs(h: Harness, count: int, seed: int) -> list[FaultSet]:
    """Return pairs drawn by their priors, each of whose members shows in the report.

    A fault that another hides, such as a dead lamp behind an open feed, cannot be found
    before the other is mended.
    """
    singles = noticeable_singles(h)
    random = np.random.default_rng(seed)
    weight = np.array([w for _, w in singles])
    sets = sets_for(h)
    alone = Reports.of(sets, [faults for faults, _ in singles]).words
    found: dict[FaultSet, None] = {}
    for _ in range(ATTEMPTS):
        drawn = _drawn_pairs([f for (f,), _ in singles], weight, random)
        reports = Reports.of(sets, list(drawn))
        for k, (pair, members) in enumerate(drawn.items()):
            shows = (reports.words[:, [k]] != alone[:, members]).any(axis=0).all()
            if reports.steady[k] and shows and len(found) < count:
                found[pair] = None
        if len(found) >= count:
            break
    return list(found)


def _drawn_pairs(
    faults: Sequence[Fault], weight: FloatArray, random: np.random.Generator
) -> dict[FaultSet, list[int]]:
    """Return pairs of faults of different segments, and which faults they are of."""
    drawn: dict[FaultSet, list[int]] = {}
    share = weight / weight.sum()
    for i, j in random.choice(len(faults), (DRAWN, 2), p=share).tolist():
        if not set(faults[i].segments) & set(faults[j].segments):
            drawn[sorted_set(faults[i], faults[j])] = [i, j]
    return drawn


def as_they_come(
    h: Harness, count: int, seed: int, priors: Priors | Rates | None = None
) -> list[FaultSet]:
    """Return so many bikes' faults, drawn from all that the engine holds possible.

    Nothing wrong, single faults and pairs, each by its prior. Drawn at even steps.
    """
    faults = predictions_for(h).faults
    random = np.random.default_rng(seed)
    alone = np.exp(log_priors(h, priors))
    weight = alone.copy()
    weight[0] = 0.0
    beside = float(np.exp(beside_log_odds(h, priors)))
    excluded = _same_segment(faults)
    partners = weight.sum() - excluded @ weight
    of_pairs = weight * beside * partners / 2.0
    total = np.concatenate([alone, of_pairs])
    reached = np.cumsum(total) / total.sum()
    at = (np.arange(count) + random.random()) / count
    places = np.minimum(np.searchsorted(reached, at), len(total) - 1)
    out: list[FaultSet] = []
    for place in places.tolist():
        one = faults[place % len(faults)]
        if place < len(faults):
            out.append(() if one is None else (one,))
            continue
        chances = np.where(excluded[place - len(faults)], 0.0, weight)
        other = faults[int(random.choice(len(faults), p=chances / chances.sum()))]
        assert one is not None and other is not None  # noqa: S101, PT018 - never row 0
        out.append(sorted_set(one, other))
    return [out[i] for i in random.permutation(len(out)).tolist()]


def _same_segment(faults: Sequence[Fault | None]) -> BoolArray:
    """Return which hypotheses share a segment, each with itself as well."""
    rows: dict[str, list[int]] = {}
    for i, fault in enumerate(faults):
        for segment in fault.segments if fault is not None else ():
            rows.setdefault(segment, []).append(i)
    out: BoolArray = np.eye(len(faults), dtype=np.bool_)
    for same in rows.values():
        out[np.ix_(same, same)] = True
    return out


def rows_of(h: Harness, many: Sequence[FaultSet]) -> IntArray:
    """Return the rows of single faults among the hypotheses."""
    place = {fault: i for i, fault in enumerate(predictions_for(h).faults)}
    return np.array([place[faults[0]] for faults in many], dtype=np.intp)
