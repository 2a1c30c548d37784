"""How time and memory of a finding and new advice grow with the segments of the loom.

Looms are grown from a number, each in a process of its own. The processor's time is
taken, not the clock's, so that a busy machine does not bend the fit.
"""

import re
import sys
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from statistics import median
from time import process_time

import numpy as np
import pytest

import harness
from tests.harness.grown import grown

SEGMENTS = (75, 150, 300, 600)
QUADRATIC = 2.0
MOST_MIB = 600
FINDINGS = 6


def cost_of_a_finding(segments: int) -> tuple[float, float]:
    """Return median processor seconds of a finding with advice, and the peak in MiB."""
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
    return median(took), peak_mib()


def peak_mib() -> float:
    """Return the most memory that this process ever held.

    Not from `getrusage`: that counts what its parent held when it was started.
    """
    status = Path("/proc/self/status").read_text(encoding="ascii")
    peak_kib = re.search(r"VmHWM:\s+(\d+) kB", status)
    assert peak_kib
    return int(peak_kib[1]) / 1024


def test_a_finding_costs_at_most_four_times_as_much_on_twice_the_loom(
    capsys: pytest.CaptureFixture[str],
) -> None:
    costs = []
    for count in SEGMENTS:
        with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as pool:
            costs.append(pool.submit(cost_of_a_finding, count).result())
    power, _ = np.polyfit(np.log(SEGMENTS), np.log([took for took, _ in costs]), 1)
    figures = ", ".join(
        f"{count} segments {took * 1000:.0f} ms {most:.0f} MiB"
        for count, (took, most) in zip(SEGMENTS, costs, strict=True)
    )
    with capsys.disabled():
        sys.stdout.write(
            f" ({figures}: as segments to the power of {power:.2f} (bar {QUADRATIC})) "
        )
    assert power <= QUADRATIC
    assert costs[-1][1] <= MOST_MIB
