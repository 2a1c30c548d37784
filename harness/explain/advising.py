"""A test worth making, as plain data and plain sentences."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from harness.advice import Ranked
from harness.circuit import FloatArray
from harness.explain.outcomes import Means, outcomes
from harness.model import Harness
from harness.sets import FaultSet
from harness.steps import cautions, test_steps
from harness.words import as_json_test, set_words, test_words

SUSPECTS_NAMED = 3


def advice_data(
    h: Harness, ranked: Ranked, sets: Sequence[FaultSet], weight: FloatArray
) -> dict[str, Any]:
    """Return one piece of advice as plain data.

    Parameters
    ----------
    h : Harness
    ranked : Ranked
    sets, weight
        The sets of faults considered and their probabilities, in the order of `ranked`.
    """
    return offered_data(h, ranked, weight, lambda joint: _means(h, sets, joint))


def offered_data(
    h: Harness, ranked: Ranked, weight: FloatArray, means: Means
) -> dict[str, Any]:
    """Return a test with what each of its readings would mean, as plain data."""
    test = ranked.test
    return {
        **as_json_test(test),
        "bits": ranked.bits,
        "minutes": ranked.minutes,
        "outcomes": outcomes(h, test, (ranked.shown, ranked.groups), weight, means),
        "steps": test_steps(h, test),
        "cautions": cautions(h, test),
        "words": test_words(h, test),
    }


def _means(h: Harness, sets: Sequence[FaultSet], joint: FloatArray) -> str:
    share = joint / joint.sum()
    sums: dict[FaultSet, float] = {}
    for i in np.argsort(-share, kind="stable").tolist():
        # All sizes of a bad contact are one way to be bad.
        key = tuple(replace(fault, ohms=0.0) for fault in sets[i])
        sums[key] = sums.get(key, 0.0) + float(share[i])
    ranked = sorted(sums.items(), key=lambda item: (-item[1], item[0]))
    named = [
        f"{set_words(h, faults)} ({p:.0%})"
        for faults, p in ranked[:SUSPECTS_NAMED]
        if p >= 0.05  # noqa: PLR2004 - one in twenty is worth a word
    ]
    if not named:
        return f"The likeliest of {len(ranked)} suspects is no more than one in twenty."
    text = "; ".join(named)
    return f"{text[0].upper()}{text[1:]}."
