"""Belief and advice as plain data and plain sentences."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from harness.advice import Ranked
from harness.circuit import FloatArray
from harness.conflict import Conflict
from harness.findings import EYE_READS, FUSE_READS, LAMP_READS, Finding, is_fuse
from harness.likelihood import eye_chances, fuse_chances, lamp_chances
from harness.model import Harness
from harness.readings import test_lamp_ohm
from harness.sets import FaultSet
from harness.steps import cautions, test_steps
from harness.verdicts import Judged
from harness.words import (
    as_json_test,
    finding_words,
    reading_words,
    segment_words,
    set_words,
    test_words,
)

# An outcome less likely than this is left out of what a reading would mean.
LEAST_LIKELY = 0.004
SUSPECTS_NAMED = 3
# A current under this is a meter's own, A.
TRICKLE_A = 0.01
# A lit test lamp's own current, as a share of that at nominal volts.
LIT_AT_LEAST, LIT_AT_MOST = 0.75, 1.25
BANDED = {"voltmeter": "v", "ohmmeter": "ohm", "ammeter": "a"}


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
    test = ranked.test
    if test.tool in BANDED:
        outcomes = _bands(h, ranked, sets, weight)
    else:
        outcomes = _words(h, ranked, sets, weight)
    return {
        **as_json_test(test),
        "bits": ranked.bits,
        "minutes": ranked.minutes,
        "outcomes": outcomes,
        "steps": test_steps(h, test),
        "cautions": cautions(h, test),
        "words": test_words(h, test),
    }


def _words(
    h: Harness, ranked: Ranked, sets: Sequence[FaultSet], weight: FloatArray
) -> list[dict[str, Any]]:
    test = ranked.test
    names: tuple[str, ...]
    if test.tool == "test-lamp":
        names, chances = LAMP_READS, lamp_chances(ranked.shown, h.volts)
    elif is_fuse(h, test.device):
        names, chances = FUSE_READS, fuse_chances(ranked.shown)
    else:
        names, chances = EYE_READS, eye_chances(ranked.shown)
    out = []
    for name, chance in zip(names, chances, strict=True):
        joint = chance * weight
        if joint.sum() >= LEAST_LIKELY:
            out.append(
                {
                    "reads": name,
                    "example": name,
                    "probability": float(joint.sum()),
                    "means": _means(h, sets, joint),
                }
            )
    return out


def _bands(
    h: Harness, ranked: Ranked, sets: Sequence[FaultSet], weight: FloatArray
) -> list[dict[str, Any]]:
    unit = BANDED[ranked.test.tool]
    groups = [
        (
            float(np.min(ranked.shown[inside])),
            float(np.max(ranked.shown[inside])),
            inside,
        )
        for number in range(int(ranked.groups.max()) + 1)
        if (inside := ranked.groups == number).any()
    ]
    out = []
    for i, (_, _, inside) in enumerate(groups):
        joint = np.where(inside, weight, 0.0)
        if joint.sum() < LEAST_LIKELY:
            continue
        low = _round_between(groups[i - 1][1], groups[i][0]) if i else None
        high = (
            _round_between(groups[i][1], groups[i + 1][0])
            if i + 1 < len(groups)
            else None
        )
        typical = float(
            np.average(_finite(ranked.shown[inside]), weights=weight[inside])
        )
        is_open = bool(np.isinf(ranked.shown[inside]).all())
        out.append(
            {
                "reads": {f"from_{unit}": low, f"to_{unit}": high},
                "example": "open" if is_open else f"{round(typical, 2):g}",
                "probability": float(joint.sum()),
                "means": _means(h, sets, joint),
            }
        )
    return out


def _finite(values: FloatArray) -> FloatArray:
    out: FloatArray = np.minimum(np.nan_to_num(values, nan=0.0, posinf=1e6), 1e6)
    return out


def _round_between(low: float, high: float) -> float:
    """Return a round figure between two bands of readings."""
    if np.isinf(high):
        return float(f"{max(10.0 * low, 1e4):.1g}")
    middle = (low + high) / 2
    for digits in range(1, 5):
        rounded = float(f"{middle:.{digits}g}")
        if low < rounded < high:
            return rounded
    return float(middle)


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


def segment_sentence(
    h: Harness, judged: Judged, findings: Mapping[str, Finding]
) -> str:
    """Return why a segment has its verdict, in one sentence."""
    name = segment_words(h, judged.segment)
    head = f"{name[0].upper()}{name[1:]}"
    tests = [f"{i} ({finding_words(h, findings[i])}: {reading_words(findings[i])})"
             for i in judged.proof[:2]]  # fmt: skip
    why = " and ".join(tests)
    more = len(judged.proof) - len(tests)
    if more > 0:
        why += f" and {more} more"
    if judged.verdict == "untested":
        return f"{head} has not been put to the test."
    if judged.verdict == "sound":
        carried = _carried(h, judged, findings)
        return f"{head} is sound: {why} would have read otherwise{carried}."
    likely = f"with {judged.probability:.0%} likelihood"
    if judged.verdict == "faulty":
        return f"{head} is faulty {likely}, shown by {why}."
    return f"{head} is suspect {likely}" + (f", because of {why}." if why else ".")


def _carried(h: Harness, judged: Judged, findings: Mapping[str, Finding]) -> str:
    """Return the current that a segment was proven for, and what drew it."""
    amps = judged.proven_amps
    if amps is None:
        return ""
    tools = {findings[i].test.tool for i in judged.proof}
    if amps < TRICKLE_A:
        return "; that proves a path at a meter's trickle, and no load"
    lamp_a = h.volts / test_lamp_ohm(h.volts)
    is_lamp_s = LIT_AT_LEAST * lamp_a <= amps <= LIT_AT_MOST * lamp_a
    if "test-lamp" in tools and is_lamp_s:
        drawn = _lamp_amps(lamp_a)
        return f"; proven for {drawn}, what a test lamp draws, not for more"
    if "voltmeter" in tools:
        return f"; proven at the {amps:.2g} A that flowed meanwhile, not for more"
    return f"; proven at {amps:.2g} A, not for more"


def _lamp_amps(amps: float) -> str:
    spoken = {0.125: "an eighth of an ampere", 0.25: "a quarter of an ampere",
              0.5: "half an ampere"}  # fmt: skip
    return spoken.get(amps, f"{amps:.2g} A")


def conflict_words(h: Harness, found: Conflict, findings: Sequence[Finding]) -> str:
    """Return a conflict in words, naming the findings to doubt."""
    by_id = {finding.id: finding for finding in findings}

    def named(ids: Sequence[str]) -> str:
        return " and ".join(
            f"{i} ({finding_words(h, by_id[i])}: {reading_words(by_id[i])})"
            for i in ids
        )

    text = (
        "These findings cannot all be true of this drawing with a single fault. "
        f"Doubt {named(found.sets[0])} first: take it again"
    )
    if len(found.sets) > 1:
        text += f"; or else {named(found.sets[1])}"
    return text + ". If they stand, there is more than one fault, or the loom differs."
