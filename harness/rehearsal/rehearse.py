"""All hunts of a loom: every noticeable single fault, or seeded pairs of faults."""

from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from multiprocessing import get_context
from typing import Any

import numpy as np

from harness.files import loads
from harness.habits import Habits
from harness.model import Harness
from harness.predictions import predictions_for
from harness.rehearsal.answers import Instruments, Slips, Sound
from harness.rehearsal.blind_data import blind_data
from harness.rehearsal.chosen import noticeable_pairs, noticeable_singles, rows_of
from harness.rehearsal.play import Bike, Hunts, Played
from harness.rehearsal.report import Reports
from harness.rehearsal.summary import calibration_error, weighted_mean
from harness.sets import FaultSet
from harness.weighing import sets_for
from harness.writing import dumps

Progress = Callable[[int, int], None]
PAIRS_PLAYED = 200
# Parts for each process: many, so that none waits long for the last.
PARTS = 6

Numbered = Sequence[tuple[int, FaultSet]]


def play_all(
    h: Harness,
    sets: Sequence[FaultSet],
    *,
    instruments: Instruments | None = None,
    seed: int = 0,
    processes: int = 1,
    progress: Progress | None = None,
) -> list[Played | None]:
    """Play sets of faults through, in order; None where a bike comes to no rest.

    Parameters
    ----------
    h : Harness
    sets : sequence of tuple of Fault
    instruments : Sound, Slips or AsLikely, optional
        Sound ones unless given.
    seed : int
        Of what goes wrong with the readings.
    processes : int
        How many to use; the outcome does not depend on it.
    progress : callable, optional
        Told how many are done, of how many.
    """
    held = instruments or Sound()
    numbered = list(enumerate(sets))
    out: list[Played | None] = [None] * len(sets)
    done = 0
    if processes == 1:
        for bike, played in Hunts(h, instruments=held).play_all(_bikes(numbered, seed)):
            out[bike.number] = played
            done += 1
            if progress:
                progress(done, len(sets))
        return out
    context = get_context("spawn")
    with ProcessPoolExecutor(processes, mp_context=context) as pool:
        text = dumps(h)
        parts = _parts(h, numbered, PARTS * processes)
        jobs = [pool.submit(_part, text, part, held, seed) for part in parts]
        for job in as_completed(jobs):
            for number, played in job.result():
                out[number] = played
                done += 1
            if progress:
                progress(done, len(sets))
    return out


def _bikes(numbered: Numbered, seed: int) -> list[Bike]:
    return [
        Bike(number, faults, np.random.default_rng([seed, number]))
        for number, faults in numbered
    ]


def _parts(h: Harness, numbered: Numbered, count: int) -> list[Numbered]:
    """Share bikes out; those that report alike stay together, as far as it goes."""
    words = Reports.of(sets_for(h), [faults for _, faults in numbered]).words
    order = sorted(numbered, key=lambda item: words[:, item[0]].tobytes())
    size = max(1, -(-len(order) // count))
    return [order[start : start + size] for start in range(0, len(order), size)]


def _part(
    text: str, part: Numbered, instruments: Instruments, seed: int
) -> list[tuple[int, Played | None]]:
    hunts = Hunts(loads(text), instruments=instruments)
    return [
        (bike.number, played) for bike, played in hunts.play_all(_bikes(part, seed))
    ]


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
        and ``most``), ``entropy_bits``, ``calibration_error``, ``top`` and
        ``top_three`` (shares), ``not_isolated`` (faults), and for single faults without
        noise ``walking_tests`` and ``halving_tests`` (means), and ``blind`` (see
        `blind_data`). Weighted by the priors.
    """
    if pairs:
        chosen = [(faults, 1.0) for faults in noticeable_pairs(h, PAIRS_PLAYED, seed)]
    else:
        chosen = noticeable_singles(h)
    played = play_all(
        h,
        [faults for faults, _ in chosen],
        instruments=Slips(noise) if noise else Sound(),
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
        out |= by_habit(h, kept)
        out["blind"] = blind_data(h)
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


def by_habit(h: Harness, kept: Sequence[tuple[Played, float]]) -> dict[str, float]:
    """Return how many tests the habits of the trade take on the same faults."""
    habits = Habits(predictions_for(h))
    rows = rows_of(h, [p.faults for p, _ in kept]).tolist()
    weights = [weight for _, weight in kept]
    walking = [float(habits.walking(row)) for row in rows]
    halving = [float(habits.halving(row)) for row in rows]
    return {
        "walking_tests": weighted_mean(walking, weights),
        "halving_tests": weighted_mean(halving, weights),
    }
