"""What a rider reports with some faults in: what the eye says of every consumer."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from harness.circuit import BoolArray, FloatArray, IntArray
from harness.consumers import consumers, ordinary_rigs
from harness.findings import EYE_READS, Finding, Test
from harness.likelihood import eye_chances
from harness.model import Harness
from harness.sets import FaultSet, Sets

# Sets of faults solved at a time, so that their node volts fit into memory.
AT_A_TIME = 512


@lru_cache(maxsize=16)
def report_tests(h: Harness) -> tuple[Test, ...]:
    """Return the looks that make a rider's report: every consumer, every rig."""
    devices = sorted({c.device for c in consumers(h)})
    return tuple(
        Test(rig=rig, tool="eye", device=device)
        for rig in ordinary_rigs(h)
        for device in devices
    )


@dataclass(frozen=True)
class Reports:
    """What is reported of many bikes, each with its own set of faults.

    Attributes
    ----------
    shares : ndarray of float, shape (n_looks, n_bikes)
        Each consumer's volts as a share of its healthy ones.
    words : ndarray of intp, shape (n_looks, n_bikes)
        Index of the word that the eye finds.
    steady : ndarray of bool, shape (n_bikes,)
        Whether the bike comes to rest in every rig.
    """

    shares: FloatArray
    words: IntArray
    steady: BoolArray

    @classmethod
    def of(cls, sets: Sets, many: Sequence[FaultSet]) -> "Reports":
        """Return the reports of bikes."""
        tests = report_tests(sets.predictions.h)
        parts = [
            sets.shown(tests, many[start : start + AT_A_TIME])
            for start in range(0, len(many), AT_A_TIME)
        ]
        shares = np.concatenate(parts, axis=1) if parts else np.zeros((len(tests), 0))
        words: IntArray = eye_chances(shares).argmax(axis=0)
        steady = np.asarray(~np.isnan(shares).any(axis=0))
        return cls(shares, words, steady)


def reported(h: Harness, words: IntArray) -> tuple[Finding, ...]:
    """Return a report as findings, one a look."""
    return tuple(
        Finding(f"r{i}", test, EYE_READS[word])
        for i, (test, word) in enumerate(
            zip(report_tests(h), words.tolist(), strict=True), start=1
        )
    )
