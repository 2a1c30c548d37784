"""What a test costs in minutes from where the work stands."""

from dataclasses import replace
from functools import cache

import pytest

from harness import findings
from harness.case import Case
from harness.findings import Test
from harness.minutes import (
    ENGINE_MINUTES,
    EVERY_TEST_MINUTES,
    LEAD_MINUTES,
    REMOVE_MINUTES,
    SWITCH_MINUTES,
    TOOL_MINUTES,
    UNPLUG_MINUTES,
    Surroundings,
    minutes_for,
    places_of,
    rig_minutes,
    surroundings,
)
from harness.model import Harness
from harness.rig import rig_from
from tests.harness.hunting import as_test
from tests.harness.library import Rig
from tests.harness.small_looms import (
    BRAKE,
    HORN,
    LEAD_OFF,
    ON,
    horn_and_tail,
    in_order,
)


@cache
def bike() -> Harness:
    return horn_and_tail()


def of_tool(name: str) -> float:
    """Return the minutes of any test with a tool, everything being ready."""
    return EVERY_TEST_MINUTES + TOOL_MINUTES[name]


def a_test(rig: Rig, tool: str, probe: str, clip: str = "frame.horn") -> Test:
    given = {"rig": rig, "tool": tool, "probe": probe, "clip": clip}
    return findings.test_from(bike(), given, where="t")


def at(rig: Rig, *places: str) -> Surroundings:
    return Surroundings(rig_from(bike(), rig), frozenset(places), frozenset())


def test_minutes_are_the_tool_the_switches_and_the_places_not_yet_open() -> None:
    # Our own judgement (common practice, no source).
    lamp, moves = of_tool("test-lamp"), SWITCH_MINUTES
    horn = a_test(HORN, "test-lamp", "horn.1")
    assert minutes_for(bike(), horn, at({})) == pytest.approx(lamp + 2 * moves)
    assert minutes_for(bike(), horn, at(HORN)) == pytest.approx(lamp)
    assert minutes_for(bike(), horn, at(BRAKE)) == pytest.approx(lamp + 2 * moves)
    tail = a_test({}, "test-lamp", "tail-plug.1b")
    assert minutes_for(bike(), tail, at({})) == pytest.approx(lamp + 3)
    assert minutes_for(bike(), tail, at({}, "tail")) == pytest.approx(lamp)


def test_a_place_is_paid_for_once_though_both_leads_are_there() -> None:
    both = a_test({}, "test-lamp", "tail-plug.1b", "rear-lamp.E")
    assert places_of(bike(), both) == {"tail"}
    minutes = minutes_for(bike(), both, at({}))
    assert minutes == pytest.approx(of_tool("test-lamp") + 3)


def test_a_place_once_open_stays_open() -> None:
    case = Case(bike())
    case.add({"tool": "test-lamp", "probe": "tail-plug.1b", "reads": "dark"})
    case.add({"tool": "test-lamp", "probe": "horn.1", "reads": "dark"})
    around = surroundings(bike(), case.findings)
    assert around.open_places == {"tail"}
    again = a_test({}, "test-lamp", "tail-plug.2b")
    assert minutes_for(bike(), again, around) == pytest.approx(of_tool("test-lamp"))


def test_the_lead_and_the_engine_cost_their_minutes_when_they_change() -> None:
    ohms = a_test(LEAD_OFF, "ohmmeter", "horn.1", "horn.2")
    base = of_tool("ohmmeter")
    assert minutes_for(bike(), ohms, at({})) == pytest.approx(base + LEAD_MINUTES)
    assert minutes_for(bike(), ohms, at(LEAD_OFF)) == pytest.approx(base)
    volts = a_test({}, "voltmeter", "horn.1")
    back = of_tool("voltmeter") + LEAD_MINUTES
    assert minutes_for(bike(), volts, at(LEAD_OFF)) == pytest.approx(back)
    running = a_test({"engine": "running"}, "voltmeter", "horn.1")
    start = of_tool("voltmeter") + ENGINE_MINUTES
    assert minutes_for(bike(), running, at({})) == pytest.approx(start)


def test_looking_costs_no_access_but_a_fuse_must_be_got_at() -> None:
    lamp = Test(rig_from(bike(), ON), "eye", device="rear-lamp.tail")
    fuse = Test(rig_from(bike(), {}), "eye", device="main-fuse")
    assert places_of(bike(), lamp) == frozenset()
    assert places_of(bike(), fuse) == {"tray"}


def test_a_clamp_is_put_on_where_its_wire_begins() -> None:
    # It sits near the wire's first end: wire 11 begins at the rear lamp, wire 1 in
    # the battery tray.
    for name, place in (("11", "tail"), ("1", "tray")):
        clamp = Test(rig_from(bike(), ON), "ammeter", wire=name)
        assert places_of(bike(), clamp) == {place}
        minutes = minutes_for(bike(), clamp, at(ON, place))
        assert minutes == pytest.approx(of_tool("ammeter"))


def test_a_plug_pulled_apart_and_a_fuse_taken_out_cost_their_minutes() -> None:
    apart = rig_from(bike(), {"unplugged": ["tail-plug"]})
    without = rig_from(bike(), {"removed": ["main-fuse"]})
    rest = rig_from(bike(), {})
    assert rig_minutes(rest, apart) == rig_minutes(apart, rest) == UNPLUG_MINUTES
    assert rig_minutes(rest, without) == REMOVE_MINUTES
    assert rig_minutes(apart, without) == pytest.approx(UNPLUG_MINUTES + REMOVE_MINUTES)
    assert rig_minutes(apart, apart) == 0.0
    assert places_of(bike(), Test(apart, "eye", device="horn")) == {"tail"}
    assert places_of(bike(), Test(without, "eye", device="horn")) == {"tray"}


def with_tail_minutes(minutes: float) -> Harness:
    """Return the bike with its tail lamp as hard to get at as given."""
    places = [
        replace(place, access_minutes=minutes) if place.id == "tail" else place
        for place in bike().places.values()
    ]
    return Harness.build(
        title="Horn and tail lamp",
        volts=bike().volts,
        earth=bike().earth,
        places=places,
        devices=in_order(bike()),
        wires=bike().wires.values(),
    )


@pytest.mark.parametrize(("minutes", "goes_there"), [(0.0, True), (60.0, False)])
def test_a_place_that_is_hard_to_get_at_is_left_for_later(
    minutes: float, goes_there: bool
) -> None:
    h = with_tail_minutes(minutes)
    case = Case(h)
    for rig, device, reads in (
        (ON, "rear-lamp.tail", "dead"),
        (BRAKE, "rear-lamp.stop", "works"),
        (HORN, "horn", "works"),
    ):
        case.add({"rig": rig, "tool": "eye", "device": device, "reads": reads})
    first = findings.test_from(h, as_test(case.advise(limit=1)[0]), where="t")
    assert ("tail" in places_of(h, first)) is goes_there
