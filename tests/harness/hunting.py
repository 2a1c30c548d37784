"""A hunt played through: the engine advises, a bike with known faults in it answers."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from harness.case import Case
from harness.faults import Fault
from harness.findings import Tool, test_from
from harness.model import Harness
from harness.priors import Priors, Rates
from harness.rehearsal import answer
from harness.segments import Mode
from harness.sets import FaultSet
from harness.weighing import sets_for
from tests.harness.small_looms import only

TEST_KEYS = ("rig", "tool", "probe", "clip", "device", "wire")
MOST_TESTS = 20


@dataclass(frozen=True)
class Hunted:
    """How a hunt went: the tests taken in order, and what stood at its end."""

    case: Case
    taken: tuple[dict[str, Any], ...]

    @property
    def tests(self) -> int:
        return len(self.taken)

    @property
    def suspects(self) -> list[str]:
        found = self.case.isolated()
        return list(found["segments"]) if found else []


def as_test(advice: Mapping[str, Any]) -> dict[str, Any]:
    """Return the test of a piece of advice, as a finding without its reading."""
    return {key: advice[key] for key in TEST_KEYS if key in advice}


def reading(h: Harness, faults: FaultSet, asked: Mapping[str, object]) -> str:
    """Return what a test reads on a bike with some faults in it."""
    test = test_from(h, asked, where="test")
    shown = float(sets_for(h).shown([test], [faults])[0, 0])
    return answer(h, test, shown).reads


def hunt(
    h: Harness,
    *faults: Fault,
    priors: Priors | Rates | None = None,
    told: Sequence[Mapping[str, object]] = (),
    tool: Tool | None = None,
) -> Hunted:
    """Follow the first advice until the faults are isolated or nothing is advised.

    `told` are findings to begin with; `tool` is held in place of the advised one.
    """
    case = Case(h, priors=priors)
    for finding in told:
        case.add(finding)
    taken: list[dict[str, Any]] = []
    while len(taken) < MOST_TESTS and (advised := case.advise(limit=1)):
        asked = as_test(advised[0]) | ({"tool": tool} if tool else {})
        case.add(asked | {"reads": reading(h, faults, asked)})
        taken.append(asked)
    return Hunted(case, tuple(taken))


def in_a_chain(h: Harness, shares: Sequence[float]) -> Iterator[tuple[Hunted, Fault]]:
    """Hunt each open wire of a chain in turn, one known to be open by the dead horn."""
    modes: list[tuple[str, Mode]] = [
        (f"wire:{k:02}", "open") for k in range(1, len(shares) + 1)
    ]
    priors = only(h, dict(zip(modes, shares, strict=True)))
    dead = {"tool": "eye", "device": "horn", "reads": "dead"}
    for segment, mode in modes:
        fault = Fault(segment, mode)
        yield hunt(h, fault, priors=priors, told=[dead]), fault
