"""How fast the engine answers once a loom has been looked at."""

import sys
from statistics import median
from time import perf_counter

import numpy as np
import pytest

import harness
from harness.bases import forget_bases
from harness.circuit import FloatArray
from harness.consumers import ordinary_rigs
from harness.faults import single_faults
from harness.network import compile_network
from harness.readings import voltmeter_v
from harness.tables import solve_faults
from tests.harness.library import DOTTEREL, LOOMS, WHIMBREL, loom

NEW_ADVICE_MS = 50
TABLE_MS = 150
FAULTS, TESTS = 300, 1100


def say(text: str) -> None:
    sys.stdout.write(f" ({text}) ")


@pytest.mark.parametrize("file", [WHIMBREL, DOTTEREL])
def test_a_finding_added_and_new_advice_given(
    file: str, capsys: pytest.CaptureFixture[str]
) -> None:
    h = loom(file)
    took = []
    for dead in ("horn", "rear-lamp.stop", "headlamp.dip"):
        case = harness.Case(h)
        for said in harness.complaints(h):
            reads = "dead" if said["device"] == dead else "works"
            case.add(
                {
                    "tool": "eye",
                    "device": said["device"],
                    "rig": said["rig"],
                    "reads": reads,
                }
            )
        advice = case.advise(limit=5)
        for _ in range(6):
            if not advice:
                break
            best = advice[0]
            keys = ("rig", "tool", "probe", "clip", "device")
            finding = {key: best[key] for key in keys if key in best}
            outcomes = best["outcomes"]
            likeliest = max(outcomes, key=lambda outcome: outcome["probability"])
            begun = perf_counter()
            case.add(finding | {"reads": likeliest["example"]})
            advice = case.advise(limit=5)
            took.append((perf_counter() - begun) * 1000)
    with capsys.disabled():
        say(f"{median(took):.0f} ms, slowest {max(took):.0f} ms of {len(took)}")
    assert median(took) < NEW_ADVICE_MS


def test_a_table_of_faults_and_tests_comes_from_few_factorisations(
    capsys: pytest.CaptureFixture[str],
) -> None:
    h = loom(WHIMBREL)
    rig = ordinary_rigs(h)[1]
    faults = single_faults(h)[:FAULTS]
    rows = np.arange(FAULTS)
    nodes = len(compile_network(h, rig).nodes)
    pairs = [(a, b) for b in range(0, nodes, 20) for a in range(nodes) if a != b]
    probe = np.array([a for a, _ in pairs[:TESTS]], dtype=np.intp)
    clip = np.array([b for _, b in pairs[:TESTS]], dtype=np.intp)

    def whole_table() -> FloatArray:
        forget_bases()
        return voltmeter_v(solve_faults(h, rig, faults), rows, probe, clip)

    took = []
    for _ in range(7):
        begun = perf_counter()
        shown = whole_table()
        took.append((perf_counter() - begun) * 1000)
        assert shown.shape == (FAULTS, TESTS)
    with capsys.disabled():
        say(f"{FAULTS} faults x {TESTS} tests, {nodes} nodes: {median(took):.0f} ms")
    assert median(took) < TABLE_MS


def test_both_looms_are_measured() -> None:
    assert set(LOOMS) == {WHIMBREL, DOTTEREL}
