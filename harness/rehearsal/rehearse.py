"""All hunts of a loom: every noticeable single fault, or seeded pairs of faults."""

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from typing import Any

import numpy as np

from harness.belief import sorted_set
from harness.files import loads
from harness.habits import Habits
from harness.model import Harness
from harness.predictions import predictions_for
from harness.priors import log_priors
from harness.rehearsal.play import Hunts, Played
from harness.rehearsal.report import Report, report_words
from harness.rehearsal.summary import calibration_error, weighted_mean
from harness.sets import FaultSet
from harness.weighing import sets_for
from harness.writing import dumps

Progress = Callable[[int, int], None]
PAIRS_PLAYED = 200
ATTEMPTS = 40


def noticeable_singles(h: Harness) -> list[tuple[FaultSet, float]]:
    """Return every single fault that a rider would notice, with its prior."""
    predictions, prior = predictions_for(h), np.exp(log_priors(h))
    out: list[tuple[FaultSet, float]] = []
    for row in Report(predictions).noticeable:
        fault = predictions.faults[row]
        if fault is not None:
            out.append(((fault,), float(prior[row])))
    return out


def noticeable_pairs(h: Harness, count: int, seed: int) -> list[FaultSet]:
    """Return pairs drawn by their priors, each of whose members shows in the report.

    A fault that another hides, such as a dead lamp behind an open feed, cannot be found
    before the other is mended.
    """
    singles = noticeable_singles(h)
    random = np.random.default_rng(seed)
    weight = np.array([w for _, w in singles])
    sets = sets_for(h)
    alone = {faults: report_words(sets, faults) for faults, _ in singles}
    found: dict[FaultSet, None] = {}
    for _ in range(ATTEMPTS * count):
        if len(found) >= count:
            break
        i, j = random.choice(len(singles), 2, replace=False, p=weight / weight.sum())
        (one,), (other,) = singles[i][0], singles[j][0]
        if set(one.segments) & set(other.segments):
            continue
        pair = sorted_set(one, other)
        words = report_words(sets, pair)
        if words is None or pair in found:
            continue
        if all((words != alone[(f,)]).any() for f in pair):
            found[pair] = None
    return list(found)


def play_all(
    h: Harness,
    sets: Sequence[FaultSet],
    *,
    wrong: float = 0.0,
    seed: int = 0,
    processes: int = 1,
    progress: Progress | None = None,
) -> list[Played | None]:
    """Play sets of faults through, in order; None where a bike comes to no rest.

    Parameters
    ----------
    h : Harness
    sets : sequence of tuple of Fault
    wrong : float
        How often a reading is plain wrong; at zero there is no noise at all.
    processes : int
        How many to use; the outcome does not depend on it.
    progress : callable, optional
        Told how many are done, of how many.
    """
    if processes == 1:
        out = []
        for played in _each(h, list(enumerate(sets)), wrong, seed):
            out.append(played)
            if progress:
                progress(len(out), len(sets))
        return out
    # Neighbours in order share a report, so that each process meets few of them.
    size = max(1, len(sets) // (8 * processes))
    numbered = list(enumerate(sets))
    parts = [numbered[i : i + size] for i in range(0, len(sets), size)]
    out = []
    context = get_context("spawn")
    with ProcessPoolExecutor(processes, mp_context=context) as pool:
        text = dumps(h)
        jobs = [pool.submit(_part, text, part, wrong, seed) for part in parts]
        for job in jobs:
            out += job.result()
            if progress:
                progress(len(out), len(sets))
    return out


_HUNTS: dict[tuple[str, float], Hunts] = {}


def _part(
    text: str, part: Sequence[tuple[int, FaultSet]], wrong: float, seed: int
) -> list[Played | None]:
    h = loads(text)
    return list(_each(h, part, wrong, seed))


def _each(
    h: Harness, part: Sequence[tuple[int, FaultSet]], wrong: float, seed: int
) -> Iterator[Played | None]:
    key = (h.digest, wrong)
    if key not in _HUNTS:
        _HUNTS.clear()
        _HUNTS[key] = Hunts(h, wrong=wrong)
    for number, faults in part:
        random = np.random.default_rng([seed, number]) if wrong else None
        yield _HUNTS[key].play(faults, random)


def rehearse(
    h: Harness,
    *,
    pairs: bool = False,
    noise: float = 0.0,
    processes: int = 1,
    progress: Progress | None = None,
    seed: int = 0,
) -> dict[str, Any]:
    """Play every noticeable single fault, or some pairs, against the advice.

    Parameters
    ----------
    h : Harness
    pairs : bool
        Play seeded pairs in place of the single faults.
    noise : float
        How often a reading is plain wrong.
    processes, progress, seed
        See `play_all`.

    Returns
    -------
    dict
        ``hunts`` (how many), ``isolated`` (share), ``tests`` and ``minutes`` (``mean``
        and ``most``), ``entropy_bits``, ``calibration_error``, ``top`` and ``top_three``
        (shares), ``not_isolated`` (faults), and for single faults without noise
        ``walking_tests`` and ``halving_tests`` (means). Weighted by the priors.
    """
    if pairs:
        chosen = [(faults, 1.0) for faults in noticeable_pairs(h, PAIRS_PLAYED, seed)]
    else:
        chosen = noticeable_singles(h)
    played = play_all(
        h,
        [faults for faults, _ in chosen],
        wrong=noise,
        seed=seed,
        processes=processes,
        progress=progress,
    )
    kept = [
        (p, weight)
        for p, (_, weight) in zip(played, chosen, strict=True)
        if p is not None
    ]
    out = summary(kept)
    if not pairs and not noise:
        out |= _by_habit(h, kept)
    return out


def summary(kept: Sequence[tuple[Played, float]]) -> dict[str, Any]:
    """Return what hunts come to, each with its weight, as plain data."""
    hunts = [p for p, _ in kept]
    weights = [weight for _, weight in kept]

    def mean(values: Sequence[float]) -> float:
        return weighted_mean(values, weights)

    steps = [step for p in hunts for step in p.stated]
    of_steps = [w for p, w in kept for _ in p.stated]
    return {
        "hunts": len(hunts),
        "isolated": mean([float(p.isolated) for p in hunts]),
        "not_isolated": [
            [[f.segment, f.mode] for f in p.faults] for p in hunts if not p.isolated
        ],
        "tests": {
            "mean": mean([float(p.tests) for p in hunts]),
            "most": max(p.tests for p in hunts),
        },
        "minutes": {
            "mean": mean([p.minutes for p in hunts]),
            "most": max(p.minutes for p in hunts),
        },
        "entropy_bits": mean([p.entropy_bits for p in hunts]),
        "top": mean([float(p.rank == 1) for p in hunts]),
        "top_three": mean([float(p.rank >= 1) for p in hunts]),
        "calibration_error": calibration_error(steps, of_steps),
    }


def _by_habit(h: Harness, kept: Sequence[tuple[Played, float]]) -> dict[str, float]:
    predictions = predictions_for(h)
    habits = Habits(predictions)
    rows = [predictions.faults.index(p.faults[0]) for p, _ in kept]
    weights = [weight for _, weight in kept]
    walking = [float(habits.walking(row)) for row in rows]
    halving = [float(habits.halving(row)) for row in rows]
    return {
        "walking_tests": weighted_mean(walking, weights),
        "halving_tests": weighted_mean(halving, weights),
    }
