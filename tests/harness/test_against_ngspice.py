"""Every loom against ngspice, sound and with seeded faults: every terminal's volts.

ngspice is Debian's (39.3, the check values' oracle list). The netlist is written from
the harness contract in `spice.py` and from the definitions of the faults in
`spice_faults.py`; relays and fuses are settled there as well, so that which fuses
opened is compared too. Stretches that hang in the air have no voltage of their own: on
them only differences are compared.
"""

import random
import shutil
import sys
from collections.abc import Iterator, Sequence
from functools import cache
from itertools import cycle

import pytest

import harness
from harness.consumers import ordinary_rigs
from harness.errors import SingularNetwork
from harness.faults import single_faults
from harness.showing import opened_before
from tests.harness.library import (
    DOTTEREL,
    EVERY_LOOM,
    HEAD,
    MAIN,
    ON,
    RIDING,
    SIDE,
    WHIMBREL,
    Rig,
    everything_on,
    loom,
)
from tests.harness.spice_bench import Bench, settle

pytestmark = pytest.mark.oracle

MOST_V = 1e-4
# 408 faults in all, every other one a pair.
FAULTS_A_LOOM = 34
SEED = 1966
VISIBLE_V = 0.05
SHORTS = {"earthed", "crossed", "stuck", "shorted"}
SHORTS_A_LOOM = 6

# Beside the ordinary ones: several things on, unplugged and taken out.
MORE_RIGS: dict[str, list[Rig]] = {
    WHIMBREL: [
        {"key-switch": "PARK", "light-switch": "HEAD"},
        ON | SIDE | {"turn-switch": "L", "points-left": "SHUT"},
        ON | HEAD | {"turn-switch": "R", "rear-brake-switch": "PRESSED"},
        ON | MAIN | RIDING | {"points-right": "SHUT", "horn-button": "PRESSED"},
        everything_on(WHIMBREL),
        everything_on(WHIMBREL) | RIDING,
        ON | HEAD | {"unplugged": ["tail-plug"], "removed": ["pilot"]},
        ON | RIDING | {"battery-lead": "off"},
    ],
    DOTTEREL: [
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
        ON | {"unplugged": ["horn.1"], "jumpers": [["horn.1", "main-fuse.1"]]},
    ],
}


@pytest.fixture(scope="session", autouse=True)
def _ngspice() -> None:
    if shutil.which("ngspice") is None:
        pytest.skip("ngspice is not installed: `bash .ci/setup` does it")


@cache
def ordinary(file: str) -> tuple[Rig, ...]:
    return tuple(rig.as_mapping() for rig in ordinary_rigs(loom(file)))


def busy_rig(file: str, chance: random.Random) -> Rig:
    """Return several ordinary rigs in one, so that most faults can show."""
    rigs = list(ordinary(file))
    chance.shuffle(rigs)
    busy: Rig = {}
    for rig in rigs[: 1 + len(rigs) // 2]:
        busy = rig | busy
    return busy


def seeded_faults(file: str) -> Iterator[Bench]:
    """Yield faults of every mode in its turn, every other time with a second one."""
    chance = random.Random(f"{SEED} {file}")
    every = [f for f in single_faults(loom(file)) if not f.moved]
    modes = [m for m in harness.MODES if any(f.mode == m for f in every)]
    chance.shuffle(modes)
    for k, mode in zip(range(FAULTS_A_LOOM), cycle(modes), strict=False):
        first = chance.choice([f for f in every if f.mode == mode])
        faults = [first]
        if k % 2:
            faults.append(chance.choice([f for f in every if apart(f, first)]))
        yield Bench(loom(file), busy_rig(file, chance), faults)


def apart(one: harness.Fault, other: harness.Fault) -> bool:
    """Return whether two faults touch no segment together."""
    touched = {one.segment, one.other} & {other.segment, other.other}
    return not touched - {""}


def difference_v(op: harness.OperatingPoint, bench: Bench) -> float:
    """Return the largest difference of any terminal, islands by their differences."""
    assert bench.answer is not None
    base: dict[str, tuple[float, float]] = {}
    worst = 0.0
    for terminal in bench.h.terminals:
        ours_v, theirs_v = op.volts[terminal], bench.answer.volts[terminal]
        island = bench.answer.island[terminal]
        if island != "0":
            first = base.setdefault(island, (ours_v, theirs_v))
            ours_v, theirs_v = ours_v - first[0], theirs_v - first[1]
        worst = max(worst, abs(ours_v - theirs_v))
    return worst


def compared(benches: Sequence[Bench]) -> tuple[float, list[str]]:
    """Return the worst difference, and what does not agree in words."""
    settle(benches)
    worst, wrong = 0.0, []
    for bench in benches:
        case = f"{bench.rig} {list(bench.faults)}"
        try:
            op = harness.solve(bench.h, rig=bench.rig, faults=bench.faults)
        except SingularNetwork as error:
            # A starter relay chatters on a weak battery: there is no steady state.
            if not bench.restless:
                wrong.append(f"{case}: {error}")
            continue
        if bench.restless:
            wrong.append(f"{case}: ngspice finds no rest, the engine does")
            continue
        if list(op.blown) != bench.blown:
            wrong.append(f"{case}: {op.blown} blown, not {bench.blown}")
            continue
        by_v = difference_v(op, bench)
        worst = max(worst, by_v)
        if by_v > MOST_V:
            wrong.append(f"{case}: {by_v:.3g} V")
    return worst, wrong


def say(capsys: pytest.CaptureFixture[str], text: str) -> None:
    with capsys.disabled():
        sys.stdout.write(f" ({text}) ")


@pytest.mark.parametrize("file", EVERY_LOOM)
def test_a_sound_loom_stands_as_ngspice_says(
    file: str, capsys: pytest.CaptureFixture[str]
) -> None:
    rigs = [*ordinary(file), *MORE_RIGS.get(file, [])]
    benches = [Bench(loom(file), rig) for rig in rigs]
    worst, wrong = compared(benches)
    say(capsys, f"{len(benches)} rigs, worst {worst:.2g} V")
    assert wrong == []
    assert [bench.rig for bench in benches if bench.blown or bench.restless] == []


@pytest.mark.parametrize("file", EVERY_LOOM)
def test_a_faulty_loom_stands_as_ngspice_says(
    file: str, capsys: pytest.CaptureFixture[str]
) -> None:
    benches = list(seeded_faults(file))
    worst, wrong = compared(benches)
    say(capsys, f"{len(benches)} faults, worst {worst:.2g} V")
    assert wrong == []


def opened_in_use(file: str, sets: list[list[harness.Fault]]) -> list[set[str]]:
    """Return the fuses that each set of faults opens, rig after ordinary rig."""
    opened: list[list[str]] = [[] for _ in sets]
    for rig in ordinary(file):
        benches = [
            Bench(loom(file), rig, faults, blown=list(gone))
            for faults, gone in zip(sets, opened, strict=True)
        ]
        settle(benches)
        # Where the bike chatters, what it opens is not known.
        opened = [
            gone if bench.restless else bench.blown
            for bench, gone in zip(benches, opened, strict=True)
        ]
    return [{f"fuse:{fuse}" for fuse in gone} for gone in opened]


@pytest.mark.parametrize("file", EVERY_LOOM)
def test_a_short_has_opened_the_fuses_that_ngspice_says(file: str) -> None:
    chance = random.Random(f"{SEED} shorts {file}")
    every = single_faults(loom(file))
    shorts = [f for f in every if f.mode in SHORTS]
    sets = [[fault] for fault in chance.sample(shorts, SHORTS_A_LOOM)]
    sets += [
        [first, chance.choice([f for f in every if apart(f, first)])]
        for first in chance.sample(shorts, SHORTS_A_LOOM // 2)
    ]
    alone = [[fault] for faults in sets for fault in faults]
    of_each = opened_in_use(file, alone)
    # Each short has opened what it opens by itself.
    ends = [sum(map(len, sets[: i + 1])) for i in range(len(sets))]
    theirs = [
        set().union(*of_each[end - len(faults) : end])
        for end, faults in zip(ends, sets, strict=True)
    ]
    assert [set(opened_before(loom(file), faults)) for faults in sets] == theirs
    assert any(theirs)


def test_the_seeded_faults_show_in_every_mode_and_some_blow_fuses() -> None:
    modes, noticed, blew, chattered, pairs, count = set(), 0, 0, 0, 0, 0
    for file in EVERY_LOOM:
        for bench in seeded_faults(file):
            count += 1
            pairs += len(bench.faults) - 1
            sound = harness.solve(loom(file), rig=bench.rig).volts
            try:
                ill = harness.solve(loom(file), rig=bench.rig, faults=bench.faults)
            except SingularNetwork:
                chattered += 1
                continue
            shows = max(abs(ill.volts[t] - sound[t]) for t in sound) > VISIBLE_V
            noticed += shows
            blew += bool(ill.blown)
            if shows:
                modes |= {fault.mode for fault in bench.faults}
    assert count >= 400
    assert pairs >= 200
    assert noticed >= 0.6 * count
    assert modes == set(harness.MODES)
    assert blew >= 10
    assert chattered <= 8
