"""A hunt played through: the engine advises, a bike with one fault in it answers."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from harness.case import Case
from harness.faults import Fault
from harness.findings import Tool, test_from
from harness.model import Harness
from harness.predictions import predictions_for
from harness.rehearsal import answer
from harness.segments import Mode
from tests.harness.small_looms import Rates, only

TEST_KEYS = ("rig", "tool", "probe", "clip", "device")
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


def hunt(
    h: Harness,
    fault: Fault,
    *,
    priors: Rates | None = None,
    told: Sequence[Mapping[str, object]] = (),
    tool: Tool | None = None,
) -> Hunted:
    """Follow the first advice until a fault is isolated or nothing is advised.

    `told` are findings to begin with; `tool` is held in place of the advised one.
    """
    case = Case(h, priors=priors)
    for finding in told:
        case.add(finding)
    known = predictions_for(h)
    row = known.faults.index(fault)
    taken: list[dict[str, Any]] = []
    while len(taken) < MOST_TESTS and (advised := case.advise(limit=1)):
        asked = as_test(advised[0]) | ({"tool": tool} if tool else {})
        test = test_from(h, asked, where="test")
        case.add(asked | {"reads": answer(known, test, row).reads})
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
