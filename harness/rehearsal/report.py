"""What a rider reports, and what a test answers, with some faults in."""

from functools import lru_cache

import numpy as np
from numpy.random import Generator

from harness.circuit import IntArray
from harness.consumers import consumers, ordinary_rigs
from harness.findings import EYE_READS, FUSE_READS, LAMP_READS, Finding, Test, is_fuse
from harness.likelihood import (
    OHM_LEADS,
    OHM_SHARE,
    amp_width,
    eye_chances,
    fuse_chances,
    lamp_chances,
    volt_width,
)
from harness.model import Harness
from harness.predictions import Predictions
from harness.sets import FaultSet, Sets


@lru_cache(maxsize=16)
def report_tests(h: Harness) -> tuple[Test, ...]:
    """Return the looks that make a rider's report: every consumer, every rig."""
    devices = sorted({c.device for c in consumers(h)})
    return tuple(
        Test(rig=rig, tool="eye", device=device)
        for rig in ordinary_rigs(h)
        for device in devices
    )


class Report:
    """What a rider reports under every single fault.

    Attributes
    ----------
    words : ndarray of intp, shape (n_tests, n_hypotheses)
        Index of the word that the eye finds.
    noticeable : tuple of int
        Hypotheses whose report differs from that of nothing wrong; those that come to
        no steady state, and intermittent contacts, are left out.
    """

    def __init__(self, predictions: Predictions) -> None:
        self.tests = report_tests(predictions.h)
        shown = np.stack([predictions.shown(test) for test in self.tests])
        self.words = eye_chances(shown).argmax(axis=0)
        steady = ~np.isnan(shown).any(axis=0)
        differs = (self.words != self.words[:, :1]).any(axis=0)
        moved = np.array([f is not None and f.moved for f in predictions.faults])
        self.noticeable = tuple(np.flatnonzero(differs & steady & ~moved).tolist())


def reported(h: Harness, words: IntArray) -> tuple[Finding, ...]:
    """Return a report as findings, one a look."""
    return tuple(
        Finding(f"r{i}", test, EYE_READS[word])
        for i, (test, word) in enumerate(
            zip(report_tests(h), words.tolist(), strict=True), start=1
        )
    )


def report_words(sets: Sets, faults: FaultSet) -> IntArray | None:
    """Return the words of the report with some faults in, None without rest."""
    shown = sets.shown(report_tests(sets.predictions.h), [faults])[:, 0]
    if np.isnan(shown).any():
        return None
    words: IntArray = eye_chances(shown).argmax(axis=0)
    return words


def answer(h: Harness, test: Test, shown: float, *, id_: str = "") -> Finding:
    """Return the finding of a test that shows a value, without noise."""
    value = np.array([shown])
    if test.tool == "test-lamp":
        word = LAMP_READS[int(lamp_chances(value, h.volts)[:, 0].argmax())]
        return Finding(id_, test, word)
    if test.tool == "eye":
        fuse = is_fuse(h, test.device)
        words = FUSE_READS if fuse else EYE_READS
        chances = fuse_chances(value) if fuse else eye_chances(value)
        return Finding(id_, test, words[int(chances[:, 0].argmax())])
    return Finding(id_, test, "open" if np.isinf(shown) else f"{shown:g}", shown)


def noisy_answer(
    h: Harness, test: Test, shown: float, random: Generator, wrong: float, *, id_: str
) -> tuple[Finding, bool]:
    """Return a reading with a meter's width, and wrong once in a while.

    Parameters
    ----------
    wrong : float
        How often a reading is plain wrong: another word, or any figure in the range.

    Returns
    -------
    Finding
    bool
        Whether it is plain wrong.
    """
    slips = bool(random.random() < wrong)
    honest = answer(h, test, shown, id_=id_)
    if test.tool in {"test-lamp", "eye"}:
        if not slips:
            return honest, False
        words = _words(h, test)
        others = [word for word in words if word != honest.reads]
        return Finding(id_, test, others[int(random.integers(len(others)))]), True
    value = _strayed(test, shown, random) if not slips else _any(h, test, random)
    return answer(h, test, value, id_=id_), slips


def _words(h: Harness, test: Test) -> tuple[str, ...]:
    if test.tool == "test-lamp":
        return LAMP_READS
    return FUSE_READS if is_fuse(h, test.device) else EYE_READS


def _strayed(test: Test, shown: float, random: Generator) -> float:
    if np.isinf(shown):
        return shown
    stray = float(random.normal())
    if test.tool == "ohmmeter":
        return max(shown + stray * (OHM_LEADS + OHM_SHARE * shown), 0.0)
    width = volt_width if test.tool == "voltmeter" else amp_width
    return shown + stray * float(width(np.array([shown]))[0])


def _any(h: Harness, test: Test, random: Generator) -> float:
    if test.tool == "ohmmeter":
        return float(10.0 ** random.uniform(-1, 5))
    most = 1.1 * h.volts if test.tool == "voltmeter" else 20.0
    return float(random.uniform(-most, most))
