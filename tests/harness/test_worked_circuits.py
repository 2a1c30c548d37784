"""The solver against worked circuits of published textbooks (check values C1 to C17).

The circuits are harness files under tests/cases; the answers, as printed, stand beside
their sources in tests/cases/expected.toml. A figure must agree to its printed digits
or to four of them, whichever is fewer.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

import pytest

import harness
from harness.circuit import Circuit
from harness.kinds import Diode, Load
from harness.solver import solve_network

CASES = Path(__file__).resolve().parents[1] / "cases"
DIGITS_AT_MOST = 4
# Millionths of an ohm in the wires: nothing here may pass for a printed zero.
AS_GOOD_AS_NOTHING = 1e-7


@dataclass(frozen=True)
class Expected:
    """One worked circuit in one rig, as tests/cases/expected.toml has it."""

    check: str
    file: str
    source: str
    got: str
    rig: Mapping[str, str] = field(default_factory=dict)
    amps: Mapping[str, str] = field(default_factory=dict)
    volts: Mapping[str, str] = field(default_factory=dict)
    source_watts: Mapping[str, str] = field(default_factory=dict)
    load_watts: Mapping[str, str] = field(default_factory=dict)


def expectations() -> list[Expected]:
    text = (CASES / "expected.toml").read_text(encoding="utf-8")
    return [Expected(**entry) for entry in tomllib.loads(text)["expect"]]


@cache
def drawing(file: str) -> harness.Harness:
    return harness.load(CASES / file)


def agrees(value: float, printed: str) -> bool:
    """Tell whether a value is within half a unit of the last digit that counts."""
    target = float(printed)
    if target == 0:
        return abs(value) < AS_GOOD_AS_NOTHING
    digits = len(printed.lstrip("-0.").replace(".", ""))
    exponent = int(f"{target:e}".partition("e")[2])
    last = exponent - min(digits, DIGITS_AT_MOST) + 1
    return abs(value - target) <= 0.5 * 10.0**last * (1 + 1e-4)


def volts_of(volts: Mapping[str, float], name: str) -> float:
    """Return the volts of a terminal, or between two: ``a.1 - b.1``."""
    one, minus, two = name.partition(" - ")
    return volts[one] - (volts[two] if minus else 0.0)


def load_watts(h: harness.Harness, volts: Mapping[str, float], name: str) -> float:
    every = [d for d in h.devices.values() if isinstance(d.spec, Load)]
    total_w = 0.0
    for device in every:
        assert isinstance(device.spec, Load)
        if name in {device.id, "all"}:
            drop_v = volts[f"{device.id}.1"] - volts[f"{device.id}.2"]
            total_w += drop_v**2 / device.spec.ohms
    return total_w


def given_watts(
    h: harness.Harness, op: "harness.OperatingPoint", battery: str
) -> float:
    """Return what a battery gives: its volts times what leaves by its feed post."""
    post = f"{battery}.pos"
    out_a = sum(
        op.amps[f"wire:{w.id}"] * (1 if w.start == post else -1)
        for w in h.wires.values()
        if post in {w.start, w.end}
    )
    return out_a * volts_of(op.volts, f"{battery}.pos - {battery}.neg")


@pytest.mark.parametrize("expected", expectations(), ids=lambda e: str(e.check))
def test_a_worked_circuit_comes_out_as_the_book_prints_it(expected: Expected) -> None:
    h = drawing(expected.file)
    op = harness.solve(h, rig=expected.rig)
    found = {f"amps {w}": op.amps[f"wire:{w}"] for w in expected.amps}
    found |= {f"volts {v}": volts_of(op.volts, v) for v in expected.volts}
    found |= {f"gives {b}": given_watts(h, op, b) for b in expected.source_watts}
    found |= {f"takes {d}": load_watts(h, op.volts, d) for d in expected.load_watts}
    printed = [
        *expected.amps.values(),
        *expected.volts.values(),
        *expected.source_watts.values(),
        *expected.load_watts.values(),
    ]
    assert printed, "a circuit with nothing to compare"
    wrong = {
        what: (value, text)
        for (what, value), text in zip(found.items(), printed, strict=True)
        if not agrees(value, text)
    }
    assert wrong == {}, f"{expected.check}, {expected.source} [{expected.got}]"


def test_every_circuit_file_has_an_expected_answer_and_a_source() -> None:
    entries = expectations()
    files = {path.name for path in CASES.glob("c*.toml")}
    assert {entry.file for entry in entries} == files
    checked = {entry.check.partition(",")[0] for entry in entries}
    assert checked == {f"C{n}" for n in range(1, 17)}
    assert all(entry.source and entry.got.startswith("pub") for entry in entries)


@pytest.mark.parametrize(
    ("value", "printed", "good"),
    [
        (1.18812, "1.188", True),
        (1.18852, "1.188", False),
        (17.6552, "17.655", True),
        (17.64, "17.655", False),
        (19.96, "20.00", False),
        (0.02004, "0.020", True),
        (0.0206, "0.020", False),
        (-2.004, "-2.00", True),
        (2.0, "-2.00", False),
        (1e-6, "0", False),
    ],
)
def test_the_comparison_goes_by_printed_digits(
    value: float, printed: str, good: bool
) -> None:
    assert agrees(value, printed) is good


def test_five_cells_side_by_side_are_one_of_a_fifth_of_the_resistance() -> None:
    # C3, Lessons in Electric Circuits I ch. 11 [pub H]: 2.0 V and 0.04 ohm.
    def bank(load_ohm: float) -> float:
        circuit = Circuit(reference="0")
        for _ in range(5):
            circuit.add_source("top", "0", volts=2.0, ohm=0.2)
        circuit.add_resistor("top", "0", ohm=load_ohm)
        net = circuit.network()
        return float(solve_network(net).volts[net.node_of["top"]])

    open_v, loaded_v = bank(1e9), bank(0.04)
    assert open_v == pytest.approx(2.0, rel=1e-6)
    inner_ohm = 0.04 * (open_v - loaded_v) / loaded_v
    assert inner_ohm == pytest.approx(0.04, rel=1e-6)


def test_the_two_batteries_are_one_source_seen_from_the_node() -> None:
    # C8, Lessons in Electric Circuits I ch. 10 [pub H]: 11.2 V behind 0.8 ohm, 14 A.
    h = drawing("c07-two-batteries.toml")
    open_v = harness.solve(h, rig={"select": "OPEN"}).volts["n.1"]
    short_a = harness.solve(h, rig={"select": "SHORT"}).amps["wire:I2"]
    assert agrees(open_v, "11.2")
    assert agrees(short_a, "14")
    assert agrees(open_v / short_a, "0.8")


def test_a_diode_drops_what_silicon_does_unless_the_file_says_otherwise() -> None:
    # C17, Lessons in Electric Circuits III ch. 3 [pub H]: 0.7 V nominal.
    assert Diode().drop_v == pytest.approx(0.7)
