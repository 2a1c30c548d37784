"""What a test costs in minutes from where the work stands.

Minutes are our own judgement (common practice, no source): a base for each tool, a
little for each switch moved, more for lifting the battery's lead, pulling a plug apart
or taking a fuse out, and the access minutes of places not yet open.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from harness.findings import Finding, Test, is_fuse
from harness.model import Harness
from harness.rig import Rig

# Finding the point, setting up, reading and writing down, whatever the tool.
EVERY_TEST_MINUTES = 3.0
TOOL_MINUTES = {
    "test-lamp": 1.0,
    "voltmeter": 1.1,
    "ohmmeter": 1.3,
    "ammeter": 1.2,
    "eye": 0.5,
}
SWITCH_MINUTES = 0.1
ENGINE_MINUTES = 1.5
LEAD_MINUTES = 2.0
UNPLUG_MINUTES = 0.8
REMOVE_MINUTES = 0.5


@dataclass(frozen=True)
class Surroundings:
    """Where the work stands: the rig as it is and the places already open."""

    rig: Rig
    open_places: frozenset[str]
    taken: frozenset[Test]


def surroundings(h: Harness, findings: Sequence[Finding]) -> Surroundings:
    """Return where the work stands after some findings."""
    open_places: frozenset[str] = frozenset()
    for finding in findings:
        open_places |= places_of(h, finding.test)
    rig = findings[-1].test.rig if findings else Rig()
    taken = frozenset(finding.test for finding in findings)
    return Surroundings(rig=rig, open_places=open_places, taken=taken)


def minutes_for(h: Harness, test: Test, around: Surroundings) -> float:
    """Return the minutes that a test costs from where the work stands."""
    minutes = EVERY_TEST_MINUTES + TOOL_MINUTES[test.tool]
    minutes += rig_minutes(around.rig, test.rig)
    return minutes + access_minutes(h, places_of(h, test) - around.open_places)


def rig_minutes(now: Rig, wanted: Rig) -> float:
    """Return the minutes that it takes to come from one rig to another."""
    before, after = dict(now.moved), dict(wanted.moved)
    moves = sum(before.get(switch) != after.get(switch) for switch in {*before, *after})
    minutes = SWITCH_MINUTES * moves
    if wanted.engine == "running" and now.engine != "running":
        minutes += ENGINE_MINUTES
    if wanted.battery_lead != now.battery_lead:
        minutes += LEAD_MINUTES
    minutes += UNPLUG_MINUTES * len(set(now.unplugged) ^ set(wanted.unplugged))
    return minutes + REMOVE_MINUTES * len(set(now.removed) ^ set(wanted.removed))


def access_minutes(h: Harness, places: frozenset[str]) -> float:
    """Return the minutes that it takes to open places."""
    return sum(h.places[place].access_minutes for place in sorted(places))


def places_of(h: Harness, test: Test) -> frozenset[str]:
    """Return the places that must be open for a test."""
    named = [*test.rig.removed, *(u.partition(".")[0] for u in test.rig.unplugged)]
    if test.tool == "ammeter":
        named.append(h.wires[test.wire].start.partition(".")[0])
    elif test.tool != "eye":
        named += [terminal.partition(".")[0] for terminal in (test.probe, test.clip)]
    elif is_fuse(h, test.device):
        named.append(test.device)
    places = (h.devices[device].place for device in named)
    return frozenset(place for place in places if place is not None)
