"""A loom that is not as drawn is told by the findings that it gives."""

from collections.abc import Iterable, Sequence
from functools import cache

import pytest

from harness.conflict.drawings import (
    DRAWN_WRONG,
    DrawingDoubt,
    drawing_doubts,
    touched_terminals,
)
from harness.conflict.redrawing import Move, Redrawn
from harness.consumers import consumers
from harness.model import Harness
from harness.showing import shown
from harness.weighing import Weighing
from tests.harness.conflict.cases import Given, bike, finding, rebuilt, weighed
from tests.harness.library import loom
from tests.harness.small_looms import BRAKE, HORN, ON

# The feeds of tail and stop lamp swapped at the lamp.
SWAPPED = Redrawn((Move("10", "to", "rear-lamp.T"), Move("7", "to", "rear-lamp.S")))
POINTS = ("rear-lamp.T", "rear-lamp.S", "tail-plug.1b", "tail-plug.2b")


def reads(built: Harness, tests: Iterable[Given]) -> list[Given]:
    """Return findings as a bike built otherwise gives them."""
    return [{**test, "reads": shown(built, test)} for test in tests]


@cache
def around_the_tail() -> tuple[Given, ...]:
    looks: list[Given] = [
        {"rig": c.rig.as_mapping(), "tool": "eye", "device": c.device}
        for c in consumers(bike())
    ]
    volts: list[Given] = [
        {"rig": rig, "tool": "voltmeter", "probe": p, "clip": "frame.tail"}
        for rig in (ON, BRAKE)
        for p in POINTS
    ]
    return (*looks, *volts)


def doubts_after(
    findings: Sequence[Given], named: Sequence[str] | None = None
) -> tuple[Weighing, list[DrawingDoubt]]:
    weighing = weighed(*findings)
    belief = weighing.belief()
    names = named or [f.id for f in belief.findings]
    return weighing, drawing_doubts(weighing.sets, belief, weighing.beside, names)


def test_wires_swapped_at_the_lamp_explain_all_and_come_first() -> None:
    findings = reads(rebuilt(bike(), SWAPPED), around_the_tail())
    _, doubts = doubts_after(findings)
    assert doubts[0].redrawn == SWAPPED
    assert doubts[0].standing == ()


def test_they_are_likelier_than_what_the_drawing_allows() -> None:
    findings = reads(rebuilt(bike(), SWAPPED), around_the_tail())
    weighing, doubts = doubts_after(findings)
    assert doubts[0].log_weight > weighing.belief().log_total + 3


def test_a_fault_beside_a_wire_not_as_drawn_is_found_with_it() -> None:
    findings = reads(
        rebuilt(bike(), SWAPPED),
        [*around_the_tail(), {"rig": HORN, "tool": "voltmeter", "probe": "horn.2"}],
    )
    dead = [f for f in findings if f.get("device") != "horn"][:-1]
    dead.append({"rig": HORN, "tool": "eye", "device": "horn", "reads": "dead"})
    dead.append({"rig": HORN, "tool": "voltmeter", "probe": "horn.2", "reads": 12.5})
    _, doubts = doubts_after(dead)
    found = {doubt.redrawn: doubt.standing for doubt in doubts}
    assert [fault.segment for fault in found[SWAPPED]] == ["wire:5"]


def test_as_drawn_nothing_is_as_good_as_the_drawing() -> None:
    weighing, doubts = doubts_after(reads(bike(), around_the_tail()))
    assert all(d.log_weight < weighing.belief().log_total for d in doubts)


def test_likeliest_first_and_each_drawing_once() -> None:
    _, doubts = doubts_after(reads(rebuilt(bike(), SWAPPED), around_the_tail()))
    weights = [doubt.log_weight for doubt in doubts]
    assert weights == sorted(weights, reverse=True)
    assert len({doubt.redrawn for doubt in doubts}) == len(doubts)


@pytest.mark.parametrize(
    ("given", "ends"),
    [
        ({"tool": "eye", "device": "horn"}, ("horn.1", "horn.2")),
        ({"tool": "eye", "device": "main-fuse"}, ("main-fuse.1", "main-fuse.2")),
        ({"tool": "ammeter", "wire": "4"}, ("horn-button.2", "horn.1")),
        ({"tool": "test-lamp", "probe": "horn.1"}, ("horn.1", "frame.battery")),
    ],
)
def test_where_a_finding_touches_the_loom(given: Given, ends: tuple[str, ...]) -> None:
    words = {"eye": "works", "ammeter": 1.0, "test-lamp": "lit"}
    read = "intact" if given.get("device") == "main-fuse" else words[str(given["tool"])]
    assert touched_terminals(bike(), [finding({**given, "reads": read})]) == ends


def test_what_touches_no_wire_that_could_be_moved_gives_no_drawing() -> None:
    weighing = weighed({"tool": "test-lamp", "probe": "battery.pos", "reads": "dark"})
    found = drawing_doubts(weighing.sets, weighing.belief(), weighing.beside, [])
    assert found == []


def test_a_loom_is_seldom_other_than_drawn() -> None:
    assert 0 < DRAWN_WRONG < 0.05


def test_on_a_case_loom_a_pin_mixed_up_at_the_generator_is_found() -> None:
    h = loom("quillow-sprat-125.toml")
    mixed = Redrawn((Move("4", "from", "generator.neg"),))
    built = rebuilt(h, mixed)
    tests: list[Given] = [
        {"rig": c.rig.as_mapping(), "tool": "eye", "device": c.device}
        for c in consumers(h)
    ]
    running = {"engine": "running", "light-switch": "RIDE"}
    tests += [
        {"rig": running, "tool": "voltmeter", "probe": p}
        for p in ("generator.pos", "generator.neg", "fuse.1", "fuse.2")
    ]
    weighing = weighed(*reads(built, tests), h=h)
    belief = weighing.belief()
    names = [f.id for f in belief.findings]
    doubts = drawing_doubts(weighing.sets, belief, weighing.beside, names)
    assert mixed in [doubt.redrawn for doubt in doubts[:3]]
