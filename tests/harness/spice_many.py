"""A loom's faults in many rigs put to one ngspice process, the quickest way there is.

A circuit is read once for each rig; faults in a resistance are made and unmade by
``alter``; only faults that change what is joined to what bring a circuit of their own.
Answers are printed and then dropped: kept, they slow ngspice down about eightfold.
Relays and fuses stand as they will end up: finding that out, which takes a second run
now and then, is done before.
"""

import subprocess
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from time import perf_counter

from tests.harness.spice import Element
from tests.harness.spice_bench import Bench, settle
from tests.harness.spice_run import (
    OPTIONS,
    Circuit,
    Netlist,
    netlist_of,
    point,
    volts_by_node,
)

OPEN_OHM = 1e12
NEXT = "next fault"
LOOK = ("op", "print all", f"echo {NEXT}", "destroy all")


@dataclass(frozen=True)
class Asked:
    """One operating point: a rig by its number, a fault by its row, and its bench."""

    rig: int
    row: int
    bench: Bench

    @cached_property
    def elements(self) -> list[Element]:
        """The netlist in its final state."""
        return self.bench.elements()

    def altered(self, sound: Sequence[Element]) -> dict[int, float]:
        """Return what to alter in the sound circuit to come to this one.

        By the number of a resistance its ohms; empty where that does not do it.
        """
        here = {e.segment: e for e in self.elements}
        if len(here) < len(self.elements) or set(here) - {e.segment for e in sound}:
            return {}
        changes = {}
        for k, before in enumerate(sound):
            after = here.get(before.segment)
            if after == before:
                continue
            same = after is None or (after.a, after.b) == (before.a, before.b)
            if before.amps or not same:
                return {}
            changes[k] = OPEN_OHM if after is None else after.ohms
        return changes


@dataclass
class Deck:
    """What ngspice is to do, and in what circuit it prints each point asked."""

    asked: Sequence[Asked]
    folder: Path
    printed: list[tuple[Asked, Netlist]] = field(default_factory=list)
    altered: int = 0

    def write(self) -> None:
        """Write the circuits and the orders."""
        orders = ["faults", ".control", "set numdgt=12"]
        for number in sorted({a.rig for a in self.asked}):
            orders += self._rig([a for a in self.asked if a.rig == number])
        text = "\n".join((*orders, "quit", ".endc", ".end")) + "\n"
        (self.folder / "orders.cir").write_text(text, encoding="utf-8")

    def _rig(self, asked: Sequence[Asked]) -> Iterator[str]:
        h, rig = asked[0].bench.h, asked[0].bench.rig
        sound = Bench(h, rig)
        settle([sound])
        base = sound.elements()
        netlist = netlist_of(Circuit(h, base))
        yield from self._read(netlist, f"rig{asked[0].rig}")
        changes = [(a, a.altered(base)) for a in asked]
        for a, ohms in changes:
            if ohms:
                self.altered += 1
                self.printed.append((a, netlist))
                yield from (f"alter r{k} = {ohm!r}" for k, ohm in ohms.items())
                yield from LOOK
                yield from (f"alter r{k} = {base[k].ohms!r}" for k in ohms)
        yield "remcirc"
        for a, ohms in changes:
            if not ohms:
                own = netlist_of(Circuit(h, a.elements))
                self.printed.append((a, own))
                yield from self._read(own, f"rig{a.rig}-fault{a.row}")
                yield from LOOK
                yield "remcirc"

    def _read(self, netlist: Netlist, name: str) -> Iterator[str]:
        deck = ["a loom", OPTIONS, *netlist.lines, ".end"]
        path = self.folder / f"{name}.cir"
        path.write_text("\n".join(deck) + "\n", encoding="utf-8")
        yield f"source {name}.cir"

    def run(self) -> tuple[float, float]:
        """Return the seconds that ngspice took, and how far it now is from before, V.

        Before: when relays and fuses were settled, each circuit by itself.
        """
        begun = perf_counter()
        done = subprocess.run(
            ["ngspice", "-b", "orders.cir"],
            cwd=self.folder,
            capture_output=True,
            text=True,
            check=False,
        )
        took_s = perf_counter() - begun
        texts = done.stdout.split(NEXT)[:-1]
        worst = 0.0
        for (a, netlist), text in zip(self.printed, texts, strict=True):
            by_node, before = volts_by_node(netlist, text, done.stderr), a.bench.answer
            assert before is not None
            for terminal, volts in before.volts.items():
                if before.island[terminal] == "0":
                    now = by_node[netlist.nodes[point(a.bench.h, terminal)]]
                    worst = max(worst, abs(now - volts))
        return took_s, worst
