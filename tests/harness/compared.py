"""Tables of sets of faults beside the same sets solved one by one."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from random import Random

import numpy as np

from harness.circuit import FloatArray, Role
from harness.consumers import ordinary_rigs
from harness.edit_arrays import edit_arrays
from harness.faults import single_faults
from harness.model import Harness
from harness.network import compile_network
from harness.predictions import lead_off, predictions_for
from harness.readings import (
    VOLTMETER_OHM,
    ammeter_a,
    ohmmeter_ohm,
    test_lamp_v,
    voltmeter_v,
)
from harness.rig import Rig
from harness.sets import FaultSet, Sets
from harness.tables import Build, RigTable, solve_edits
from tests.harness.direct import Bench, some_sets

NODE_V = 1e-6
# A meter that alone ties an island down: what is left of 12 V in doubles at 10 megohm.
METER_V = 1e-4
# Filaments that a test lamp hardly moves are taken for plain resistances.
LAMP_V = 0.05
CLAMP_A = 1e-5
OHMS_RATIO, OHMS = 1e-5, 1e-6
TOOLS = ("voltmeter", "test-lamp", "ohmmeter", "ammeter")

Apart = tuple[str, float, float]


@cache
def sets_of(h: Harness) -> Sets:
    """Return the readings of sets of faults on a harness."""
    return Sets(predictions_for(h))


def fresh_table(h: Harness, rig: Rig, sets: Sequence[FaultSet]) -> RigTable:
    """Solve sets of faults with every fuse new: as on the day that they come."""
    net = compile_network(h, rig)
    faults = list(dict.fromkeys(fault for some in sets for fault in some))
    place = {fault: k for k, fault in enumerate(faults, start=1)}
    members = np.zeros((len(sets), max(1, *(len(some) for some in sets))), np.intp)
    for row, some in enumerate(sets):
        members[row, : len(some)] = [place[fault] for fault in some]
    made = edit_arrays(h, net, [None, *faults]).together(members)
    return solve_edits(h, rig, Build(net, made, ()))


def every_set(h: Harness, *, pairs: int, triples: int, seed: int = 1) -> list[FaultSet]:
    """Return nothing wrong, every single fault, and some pairs and triples."""
    singles: list[FaultSet] = [(fault,) for fault in single_faults(h)]
    more = some_sets(h, pairs, 2, seed) + some_sets(h, triples, 3, seed + 1)
    return [(), *singles, *more]


def dealt(h: Harness, sets: Sequence[FaultSet]) -> Iterator[tuple[Rig, list[FaultSet]]]:
    """Deal sets out over the ordinary rigs, each to one."""
    rigs = ordinary_rigs(h)
    for k, rig in enumerate(rigs):
        yield rig, list(sets[k :: len(rigs)])


def volts_apart(h: Harness, rig: Rig, sets: Sequence[FaultSet]) -> list[Apart]:
    """Return where node volts, blown fuses or restlessness differ."""
    table = sets_of(h).table(rig, sets)
    volts, blown = table.node_volts(), table.blown()
    found = []
    for row, faults in enumerate(sets):
        what = f"{rig.as_mapping()} {faults}"
        bench = Bench(h, rig, faults, sets_of(h).opened(faults))
        solution = bench.at_rest
        if solution is None or np.isnan(volts[row]).any():
            if solution is not None or not np.isnan(volts[row]).all():
                found.append((f"rest {what}", float(volts[row, 0]), float("nan")))
            continue
        names = {bench.net.segments[k] for k in solution.blown}
        if blown[row] != names:
            found.append((f"blown {what} {blown[row]} {names}", 0.0, 0.0))
        reached = bench.joined()[: volts.shape[1]]
        away = np.abs(volts[row] - solution.volts[: volts.shape[1]]) * reached
        worst = int(away.argmax())
        if away[worst] > NODE_V:
            name = f"{table.net.nodes[worst]} {what}"
            found.append((name, float(volts[row, worst]), float(solution.volts[worst])))
    return found


@dataclass(frozen=True)
class Asked:
    """Readings to compare: some rigs, some sets in each, some places in each."""

    rigs: Sequence[Rig]
    sets: Sequence[FaultSet]
    places: int
    seed: int = 1

    @classmethod
    def of(
        cls, h: Harness, tool: str, *, sets: int, places: int, rigs: int = 99, seed: int
    ) -> "Asked":
        """Ask for some sets of one, two and three faults."""
        third = sets // 3
        random = Random(seed)
        few = [s for size in (1, 2, 3) for s in some_sets(h, third, size, seed + size)]
        every = [lead_off(h)] if tool == "ohmmeter" else list(ordinary_rigs(h))
        chosen = random.sample(every, min(rigs, len(every)))
        return cls(chosen, [(), *few], places, seed)

    def compare(self, h: Harness, tool: str) -> list[Apart]:
        """Return what was read, from the table, and from a circuit of its own."""
        random, found = Random(self.seed), []
        for rig in self.rigs:
            table = sets_of(h).table(rig, self.sets)
            places = [_place(h, table, tool, random) for _ in range(self.places)]
            read = [from_table(table, tool, place) for place in places]
            for row, faults in enumerate(self.sets):
                bench = Bench(h, rig, faults, sets_of(h).opened(faults))
                for place, values in zip(places, read, strict=True):
                    what = f"{tool} {rig.as_mapping()} {place} {faults}"
                    circuit = from_circuit(bench, tool, place)
                    found.append((what, float(values[row]), circuit))
        return found


def _place(h: Harness, table: RigTable, tool: str, random: Random) -> tuple[str, ...]:
    if tool == "ammeter":
        return (random.choice(sorted(h.wires)),)
    while True:
        probe = random.choice(h.terminals)
        clip = random.choice([h.first_body, random.choice(h.terminals)])
        assert clip is not None
        if table.net.node_of[probe] != table.net.node_of[clip]:
            return probe, clip


def from_table(table: RigTable, tool: str, place: Sequence[str]) -> FloatArray:
    """Return what a tool reads at a place, for every set of a table."""
    rows = np.arange(table.count, dtype=np.intp)
    if tool == "ammeter":
        branch = np.array([table.net.branch_of[f"wire:{place[0]}"]])
        return ammeter_a(table, rows, branch)[:, 0]
    tools = {
        "voltmeter": voltmeter_v,
        "test-lamp": test_lamp_v,
        "ohmmeter": ohmmeter_ohm,
    }
    probe, clip = (np.array([table.net.node_of[end]]) for end in place)
    return tools[tool](table, rows, probe, clip)[:, 0]


def from_circuit(bench: Bench, tool: str, place: Sequence[str]) -> float:
    """Return what a tool reads at a place, each reading a circuit of its own."""
    if tool == "ammeter":
        return bench.ammeter(place[0])
    tools = {
        "voltmeter": bench.voltmeter,
        "test-lamp": bench.lamp,
        "ohmmeter": bench.ohmmeter,
    }
    return tools[tool](place[0], place[1])


def agree(h: Harness, tool: str, table: float, circuit: float) -> bool:
    """Tell whether two readings are the same, as far as a table's are exact."""
    if not (np.isfinite(table) and np.isfinite(circuit)):
        return bool(np.array_equal([table], [circuit], equal_nan=True))
    near = {
        "voltmeter": METER_V + abs(circuit) * dark_share(h),
        "test-lamp": LAMP_V,
        "ohmmeter": max(OHMS_RATIO * circuit, OHMS),
        "ammeter": CLAMP_A * max(1.0, abs(circuit)),
    }
    return abs(table - circuit) <= near[tool]


@cache
def dark_share(h: Harness) -> float:
    """Return the share of a voltmeter's volts that all filaments in series would take.

    A meter's microampere leaves a filament cold, where the table may have it warm.
    """
    net = compile_network(h, lead_off(h))
    warm_ohm = 1.0 / net.g_s[net.of_role(Role.LAMP)]
    return float(warm_ohm.sum()) / VOLTMETER_OHM


def apart(h: Harness, tool: str, found: Sequence[Apart]) -> list[Apart]:
    """Return the readings that differ."""
    return [row for row in found if not agree(h, tool, row[1], row[2])]
