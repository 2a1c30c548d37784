"""A fault put into the netlist, and relays and fuses settled by running it again."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from harness.kinds import Battery, Fuse, Relay
from harness.model import Harness
from tests.harness.spice import Answer, Element, Rig, healthy_elements, run, source

BLOWS_AT = 1.35
# Of the volts that pull a relay in: common practice, no source.
HOLDS_DOWN_TO = 0.4
MOST_RUNS = 30


class NoRestError(ArithmeticError):
    """A relay or a fuse has no state that agrees with the volts: it chatters."""


@dataclass(frozen=True)
class Fault:
    """A segment, a mode, and the ohms of a bad contact.

    The rest is what the contract leaves open: how hard and where to a chafed wire
    earths, and how weak a battery is (`emf_ratio` 1 with `ohms`, or less without).
    """

    segment: str
    mode: str
    ohms: float = 0.0
    chafed_to: str = ""
    chafed_ohm: float = 0.0
    emf_ratio: float = 1.0


@dataclass
class SpiceBench:
    """One harness in one rig with at most one fault.

    `blown` is in the order in which the fuses opened.
    """

    harness: Harness
    rig: Rig
    fault: Fault | None = None
    blown: list[str] = field(default_factory=list)
    pulled: set[str] = field(default_factory=set)

    def settle(self) -> Answer:
        """Run ngspice until relay contacts and fuses agree with what it finds.

        Raises
        ------
        NoRestError
            When they never do, as with a relay that drops its own supply.
        """
        for _ in range(MOST_RUNS):
            elements = self.elements()
            answer = run(self.harness, elements)
            # In the order of things: a relay pulls in, a fuse melts, a relay lets go.
            if not (
                self._pull_in(answer, elements)
                or self._blow_a_fuse(answer, elements)
                or self._let_go(answer, elements)
            ):
                return answer
        raise NoRestError

    def elements(self) -> list[Element]:
        """Return the netlist with the fault in and the blown fuses out."""
        out = {f"fuse:{fuse}" for fuse in self.blown}
        sound = healthy_elements(self.harness, self.rig, self.pulled)
        return [
            part
            for element in sound
            if element.segment not in out
            for part in self._with_fault(element)
        ]

    def _with_fault(self, element: Element) -> Iterator[Element]:
        fault = self.fault
        if fault is None or element.segment != fault.segment:
            yield element
        elif fault.mode == "earthed":
            half, middle = element.ohms / 2, "chafed.middle"
            yield Element("one half", element.a, middle, ohms=half)
            yield Element("other half", middle, element.b, ohms=half)
            to, ohms = fault.chafed_to, fault.chafed_ohm
            yield Element("chafed", middle, to, ohms=ohms)
        elif fault.mode == "weak":
            spec = self.harness.devices[element.a.partition(".")[0]].spec
            assert isinstance(spec, Battery)
            emf_v, ohms = spec.emf_v * fault.emf_ratio, spec.ohms + fault.ohms
            yield source(element.segment, element.a, element.b, emf_v, ohms)
        elif fault.mode == "resistive":
            yield replace(element, ohms=element.ohms + fault.ohms)
        else:
            assert fault.mode in {"open", "blown", "dead"}, fault.mode

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
        for d, device in self.harness.devices.items():
            if isinstance(device.spec, Relay):
                coil_v = abs(answer.volts[f"{d}.86"] - answer.volts[f"{d}.85"])
                whole = f"relay:{d}.coil" in there
                yield d, coil_v / device.spec.pull_in_v if whole else 0.0

    def _blow_a_fuse(self, answer: Answer, elements: Sequence[Element]) -> bool:
        overloads = {}
        for element in elements:
            d = element.a.partition(".")[0]
            spec = self.harness.devices[d].spec if d in self.harness.devices else None
            if isinstance(spec, Fuse) and element.segment == f"fuse:{d}":
                drop_v = answer.volts[element.a] - answer.volts[element.b]
                overloads[d] = abs(drop_v) / element.ohms / spec.amps
        worst = max(overloads, key=overloads.__getitem__, default="")
        if not worst or overloads[worst] <= BLOWS_AT:
            return False
        self.blown.append(worst)
        return True
