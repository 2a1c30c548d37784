"""How the time of a finding and new advice grows with the segments of the loom.

Looms are grown from a number. The processor's time is taken, not the clock's, so that a
busy machine does not bend the fit.
"""

import resource
import sys
from statistics import median
from time import process_time

import numpy as np
import pytest

import harness
from tests.harness.grown import grown

SEGMENTS = (75, 150, 300, 600)
QUADRATIC = 2.0
FINDINGS = 6


def seconds_of_a_finding(segments: int) -> float:
    """Return the median processor time of a finding and the advice after it."""
    h = grown(segments)
    harness.prepare(h)
    case = harness.Case(h)
    said = harness.complaints(h)
    dead = said[len(said) // 3]["device"]
    for complaint in said:
        reads = "dead" if complaint["device"] == dead else "works"
        test = {"tool": "eye", "device": complaint["device"], "rig": complaint["rig"]}
        case.add(test | {"reads": reads})
    advice = case.advise(limit=5)
    took = []
    for _ in range(FINDINGS):
        if not advice:
            break
        best = advice[0]
        keys = ("rig", "tool", "probe", "clip", "device", "wire")
        test = {key: best[key] for key in keys if key in best}
        likeliest = max(best["outcomes"], key=lambda out: out["probability"])
        begun = process_time()
        case.add(test | {"reads": likeliest["example"]})
        advice = case.advise(limit=5)
        took.append(process_time() - begun)
    return median(took)


def test_a_finding_costs_at_most_four_times_as_much_on_twice_the_loom(
    capsys: pytest.CaptureFixture[str],
) -> None:
    took = [seconds_of_a_finding(count) for count in SEGMENTS]
    power, _ = np.polyfit(np.log(SEGMENTS), np.log(took), 1)
    peak_mib = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    figures = ", ".join(
        f"{count} segments {value * 1000:.0f} ms"
        for count, value in zip(SEGMENTS, took, strict=True)
    )
    with capsys.disabled():
        sys.stdout.write(
            f" ({figures}: as segments to the power of {power:.2f} (bar {QUADRATIC}); "
            f"peak of the whole run {peak_mib:.0f} MiB) "
        )
    assert power <= QUADRATIC
