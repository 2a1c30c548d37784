"""Relays and fuses settled by having ngspice look again, many circuits at a time."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

import harness
from harness.kinds import Fuse, Relay
from harness.model import Harness
from tests.harness.spice import Element, Rig, healthy_elements
from tests.harness.spice_faults import with_faults
from tests.harness.spice_run import Answer, Circuit, answers

BLOWS_AT = 1.35
# Of the volts that pull a relay in: common practice, no source.
HOLDS_DOWN_TO = 0.4
MOST_ROUNDS = 40


@dataclass
class Bench:
    """One harness in one rig with some faults; `settle` fills in the rest.

    `blown` is in the order in which the fuses opened; `answer` stays None where the
    bike finds no rest, as with a relay that drops its own supply.
    """

    h: Harness
    rig: Rig
    faults: Sequence[harness.Fault] = ()
    blown: list[str] = field(default_factory=list)
    pulled: set[str] = field(default_factory=set)
    answer: Answer | None = None
    restless: bool = False
    been: set[tuple[object, ...]] = field(default_factory=set)

    def elements(self) -> list[Element]:
        """Return the netlist with the faults in and the blown fuses out."""
        h = self.h
        sound = list(healthy_elements(h, self.rig, self.pulled))
        out = {f"fuse:{fuse}" for fuse in self.blown}
        faulty = with_faults(h, self.rig, sound, self.faults)
        return [e for e in faulty if e.segment not in out]

    def look(self, answer: Answer, elements: Sequence[Element]) -> bool:
        """Take in what ngspice found; return whether all agrees with it."""
        # In the order of things: a relay pulls in, a fuse melts, a relay lets go.
        steps: tuple[Callable[[Answer, Sequence[Element]], bool], ...]
        steps = (self._pull_in, self._blow_a_fuse, self._let_go)
        if not any(step(answer, elements) for step in steps):
            self.answer = answer
            return True
        state = (frozenset(self.pulled), tuple(self.blown))
        self.restless = state in self.been
        self.been.add(state)
        return self.restless

    def _pull_in(self, answer: Answer, elements: Sequence[Element]) -> bool:
        for d, share in self._coils(answer, elements):
            if d not in self.pulled and share >= 1.0:
                self.pulled.add(d)
                return True
        return False

    def _let_go(self, answer: Answer, elements: Sequence[Element]) -> bool:
        for d, share in self._coils(answer, elements):
            if d in self.pulled and share < HOLDS_DOWN_TO:
                self.pulled.remove(d)
                return True
        return False

    def _coils(
        self, answer: Answer, elements: Sequence[Element]
    ) -> Iterator[tuple[str, float]]:
        """Yield each relay with its coil's volts as a share of those that pull it."""
        there = {element.segment for element in elements}
        for d, device in self.h.devices.items():
            if isinstance(device.spec, Relay):
                coil_v = abs(answer.volts[f"{d}.86"] - answer.volts[f"{d}.85"])
                whole = f"relay:{d}.coil" in there
                yield d, coil_v / device.spec.pull_in_v if whole else 0.0

    def _blow_a_fuse(self, answer: Answer, elements: Sequence[Element]) -> bool:
        overloads = {}
        for element in elements:
            d = element.a.partition(".")[0]
            spec = self.h.devices[d].spec if d in self.h.devices else None
            if isinstance(spec, Fuse) and element.segment == f"fuse:{d}":
                drop_v = answer.volts[element.a] - answer.volts[element.b]
                overloads[d] = abs(drop_v) / element.ohms / spec.amps
        worst = max(overloads, key=overloads.__getitem__, default="")
        if not worst or overloads[worst] <= BLOWS_AT:
            return False
        self.blown.append(worst)
        return True


def settle(benches: Sequence[Bench]) -> int:
    """Settle all of them, one ngspice process a round; return the circuits it took.

    Raises
    ------
    AssertionError
        When some have gone from state to state for too long to be chattering.
    """
    waiting, circuits = list(benches), 0
    for _ in range(MOST_ROUNDS):
        netlists = [bench.elements() for bench in waiting]
        circuits += len(waiting)
        found = answers(
            [
                Circuit(bench.h, elements)
                for bench, elements in zip(waiting, netlists, strict=True)
            ]
        )
        waiting = [
            bench
            for bench, answer, elements in zip(waiting, found, netlists, strict=True)
            if not bench.look(answer, elements)
        ]
        if not waiting:
            return circuits
    raise AssertionError([(bench.rig, bench.faults) for bench in waiting])
