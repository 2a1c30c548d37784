"""Both demo looms against ngspice, sound and with seeded faults: every node.

ngspice is Debian's (39.3, the check values' oracle list). The netlist is written from
the harness contract in `spice.py`; relays and fuses are settled there as well, so that
which fuses opened is compared too. Stretches that hang in the air have no voltage of
their own: on them only differences are compared.
"""

import random
import shutil
from collections.abc import Iterator

import pytest

import harness
from harness.errors import SingularNetwork
from harness.faults import CHAFED_OHM, WEAK_EMF_RATIO, nearest_body, single_faults
from tests.harness.library import (
    DOTTEREL,
    HEAD,
    LOOMS,
    MAIN,
    ON,
    RIDING,
    SIDE,
    WHIMBREL,
    Rig,
    everything_on,
    loom,
)
from tests.harness.spice import Answer
from tests.harness.spice_bench import Fault, NoRestError, SpiceBench

pytestmark = pytest.mark.oracle

MOST_V = 1e-3
MOST_RATIO = 1e-3
FAULTS_A_LOOM = 50
SEED = 1966
VISIBLE_V = 0.05

RIGS: dict[str, list[Rig]] = {
    WHIMBREL: [
        {},
        ON,
        {"key-switch": "PARK", "light-switch": "HEAD"},
        ON | SIDE | {"turn-switch": "L", "points-left": "SHUT"},
        ON | HEAD | {"turn-switch": "R", "rear-brake-switch": "PRESSED"},
        ON | MAIN | RIDING | {"points-right": "SHUT", "horn-button": "PRESSED"},
        everything_on(WHIMBREL),
        everything_on(WHIMBREL) | RIDING,
        ON | HEAD | {"unplugged": ["tail-plug"], "removed": ["pilot"]},
    ],
    DOTTEREL: [
        {},
        ON,
        SIDE,
        HEAD | {"key-switch": "ON", "turn-switch": "L"},
        ON | MAIN | RIDING | {"horn-button": "PRESSED"},
        ON | HEAD | {"start-button": "PRESSED"},
        ON | {"start-button": "PRESSED", "neutral-switch": "GEAR"},
        ON
        | MAIN
        | {
            "start-button": "PRESSED",
            "neutral-switch": "GEAR",
            "clutch-switch": "PULLED",
        },
        everything_on(DOTTEREL),
        everything_on(DOTTEREL) | RIDING,
        ON | MAIN | {"unplugged": ["left-plug"], "removed": ["main-telltale"]},
    ],
}
# Where faults are put in: much is on, so that most of them can show.
BUSY: dict[str, list[Rig]] = {
    WHIMBREL: [RIGS[WHIMBREL][k] for k in (3, 4, 5, 6)],
    DOTTEREL: [RIGS[DOTTEREL][k] for k in (3, 4, 5, 7, 8)],
}


@pytest.fixture(scope="session", autouse=True)
def _ngspice() -> None:
    if shutil.which("ngspice") is None:
        pytest.skip("ngspice is not installed: `bash .ci/setup` does it")


def seeded_faults(file: str) -> Iterator[tuple[Rig, Fault]]:
    """Yield fifty faults, every mode in its turn, each in a busy rig."""
    chance = random.Random(f"{SEED} {file}")
    h = loom(file)
    by_mode = {
        mode: [f for f in single_faults(h) if f.mode == mode] for mode in harness.MODES
    }
    for k in range(FAULTS_A_LOOM):
        mode = harness.MODES[k % len(harness.MODES)]
        fault = chance.choice(by_mode[mode])
        yield (
            chance.choice(BUSY[file]),
            Fault(
                segment=fault.segment,
                mode=fault.mode,
                ohms=fault.ohms,
                chafed_to=chafed_to(h, fault.segment) if mode == "earthed" else "",
                chafed_ohm=CHAFED_OHM,
                emf_ratio=1.0 if fault.ohms else WEAK_EMF_RATIO,
            ),
        )


def chafed_to(h: harness.Harness, segment: str) -> str:
    body = nearest_body(h, segment.partition(":")[2])
    assert body is not None
    return body


def worst(h: harness.Harness, op: harness.OperatingPoint, answer: Answer) -> float:
    """Return the largest difference as a part of what is allowed."""
    base: dict[str, tuple[float, float]] = {}
    found = 0.0
    for terminal in h.terminals:
        ours_v, theirs_v = op.volts[terminal], answer.volts[terminal]
        island = answer.island[terminal]
        if island != "0":
            first = base.setdefault(island, (ours_v, theirs_v))
            ours_v, theirs_v = ours_v - first[0], theirs_v - first[1]
        allowed_v = max(MOST_V, MOST_RATIO * abs(theirs_v))
        found = max(found, abs(ours_v - theirs_v) / allowed_v)
    return found


def solved(file: str, rig: Rig, fault: Fault) -> harness.OperatingPoint:
    given = (fault.segment, fault.mode, *([fault.ohms] if fault.ohms else []))
    return harness.solve(loom(file), rig=rig, faults=[given])


@pytest.mark.parametrize(
    ("file", "rig"), [(file, rig) for file in LOOMS for rig in RIGS[file]]
)
def test_a_sound_loom_stands_as_ngspice_says(file: str, rig: Rig) -> None:
    h = loom(file)
    bench = SpiceBench(h, rig)
    answer = bench.settle()
    op = harness.solve(h, rig=rig)
    assert worst(h, op, answer) <= 1.0
    assert list(op.blown) == bench.blown == []


@pytest.mark.parametrize(
    ("file", "rig", "fault"),
    [(file, rig, fault) for file in LOOMS for rig, fault in seeded_faults(file)],
)
def test_a_faulty_loom_stands_as_ngspice_says(
    file: str, rig: Rig, fault: Fault
) -> None:
    h = loom(file)
    bench = SpiceBench(h, rig, fault)
    try:
        answer = bench.settle()
    except NoRestError:
        # A starter relay chatters on a weak battery: there is no steady state to find.
        with pytest.raises(SingularNetwork, match="without rest"):
            solved(file, rig, fault)
        return
    op = solved(file, rig, fault)
    assert list(op.blown) == bench.blown
    assert worst(h, op, answer) <= 1.0


def test_the_seeded_faults_show_and_some_blow_fuses() -> None:
    for file in LOOMS:
        noticed, blew, chattered = 0, 0, 0
        for rig, fault in seeded_faults(file):
            sound = harness.solve(loom(file), rig=rig).volts
            try:
                ill = solved(file, rig, fault)
            except SingularNetwork:
                chattered += 1
                continue
            noticed += max(abs(ill.volts[t] - sound[t]) for t in sound) > VISIBLE_V
            blew += bool(ill.blown)
        assert noticed >= FAULTS_A_LOOM / 2
        assert blew >= 2
        assert chattered <= 2
