"""The engine against networkx: what a bridge cuts is dead, only what is reached lives.

networkx is a general graph library (the check values' oracle list: reachability,
cycles, bridges). The graphs are built from the harness contract in `conducting.py`, not
from the engine's network.
"""

import random
from collections.abc import Iterator
from functools import cache

import pytest

import harness
from harness.consumers import Consumer, consumers
from harness.kinds import Diode
from tests.harness.conducting import Conducting
from tests.harness.library import EVERY_LOOM, WREN, Rig, loom
from tests.harness.spice_run import point

SEED = 1736
TRIALS_A_LOOM = 40
SPARE_A_RIG = 6
# On these no wire has another beside it.
ALL_BRIDGES = {WREN, "cawdale-ptarmigan-350.toml", "rothaugh-courier-350.toml"}
# Under this share of its healthy volts the contract calls a device dead.
DEAD_RATIO = 0.40
NOTHING_V = 1e-6
LIVE_RATIO = 0.5


@cache
def by_rig(file: str) -> dict[str, tuple[Rig, list[Consumer]]]:
    """Return each consumer's rig with all consumers that work in it."""
    found: dict[str, tuple[Rig, list[Consumer]]] = {}
    for c in consumers(loom(file)):
        rig = c.rig.as_mapping()
        found.setdefault(str(rig), (rig, []))[1].append(c)
    return found


def drop_v(op: harness.OperatingPoint, c: Consumer) -> float:
    one, two = c.ends
    return abs(op.volts[one] - op.volts[two])


def trials(file: str) -> Iterator[tuple[Rig, list[Consumer], str]]:
    """Yield a rig, the consumers at work in it, and a wire to open."""
    chance = random.Random(f"{SEED} {file}")
    rigs = list(by_rig(file).values())
    wires = [f"wire:{w}" for w in loom(file).wires]
    for _ in range(TRIALS_A_LOOM):
        rig, at_work = chance.choice(rigs)
        yield rig, at_work, chance.choice(wires)


@pytest.mark.parametrize("file", EVERY_LOOM)
def test_a_consumer_is_dead_when_its_bridge_is_open_and_only_then(file: str) -> None:
    h = loom(file)
    cut = kept = 0
    for rig, at_work, wire in trials(file):
        before, after = Conducting(h, rig), Conducting(h, rig, [wire])
        bridge = wire in before.bridges()
        sound = harness.solve(h, rig=rig)
        ill = harness.solve(h, rig=rig, faults=[(wire, "open")])
        for c in at_work:
            if not before.fed(c.ends):
                continue  # it works through another consumer, as some tell-tales do
            what = f"{c.device} with {wire} open in {rig}"
            if after.fed(c.ends):
                assert drop_v(ill, c) >= DEAD_RATIO * drop_v(sound, c), what
                kept += 1
            else:
                assert bridge or _has_diodes(h), what
                cut += 1
                if not after.in_a_circuit(c.segment):
                    assert drop_v(ill, c) < NOTHING_V, what
    assert cut
    assert kept


def _has_diodes(h: harness.Harness) -> bool:
    return any(isinstance(d.spec, Diode) for d in h.devices.values())


@pytest.mark.parametrize(
    "file", [file for file in EVERY_LOOM if not _has_diodes(loom(file))]
)
def test_no_consumer_dies_when_what_is_no_bridge_is_open(file: str) -> None:
    """Where diodes are, a second way may be one way only: see the test above."""
    h = loom(file)
    chance = random.Random(f"{SEED} spare {file}")
    tried = 0
    for rig, at_work in by_rig(file).values():
        before = Conducting(h, rig)
        sound = harness.solve(h, rig=rig)
        spare = sorted({f"wire:{w}" for w in h.wires} - before.bridges())
        for wire in chance.sample(spare, min(len(spare), SPARE_A_RIG)):
            ill = harness.solve(h, rig=rig, faults=[(wire, "open")])
            for c in at_work:
                if before.fed(c.ends):
                    what = f"{c.device} with {wire} open in {rig}"
                    assert drop_v(ill, c) >= DEAD_RATIO * drop_v(sound, c), what
                    tried += 1
    assert tried or file in ALL_BRIDGES


@pytest.mark.parametrize("file", EVERY_LOOM)
def test_a_point_is_live_only_if_the_feed_reaches_it(file: str) -> None:
    h = loom(file)
    chance = random.Random(f"{SEED} live {file}")
    rigs = [rig for rig, _ in by_rig(file).values()]
    rigs += [rig | {"engine": "running"} for rig in rigs]
    cuts = [s.name for s in harness.segments_of(h).values() if "open" in s.modes]
    live = out_of_reach = 0
    for _ in range(TRIALS_A_LOOM):
        rig, opened = chance.choice(rigs), chance.sample(cuts, 2)
        op = harness.solve(h, rig=rig, faults=[(name, "open") for name in opened])
        reached = Conducting(h, rig, opened).reached()
        hot = {t for t in h.terminals if abs(op.volts[t]) > LIVE_RATIO * h.volts}
        lost = {t for t in h.terminals if point(h, t) not in reached}
        assert hot & lost == set(), f"{opened} open in {rig}"
        live, out_of_reach = live + len(hot), out_of_reach + len(lost)
    assert live
    assert out_of_reach
