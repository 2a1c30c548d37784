"""What tests show when several faults are there at once."""

from functools import cache
from itertools import permutations

import numpy as np
import pytest

from harness import findings
from harness.faults import Fault, single_faults
from harness.findings import Finding, Test, finding_from
from harness.model import Harness
from harness.sets import FaultSet, Sets
from harness.weighing import sets_for
from tests.harness.enumeration import Enumeration
from tests.harness.small_looms import (
    BRAKE,
    HORN,
    LEAD_OFF,
    ON,
    PARK,
    horn_and_tail,
    relay_and_charger,
    starter,
)

OPEN_RETURN = Fault("wire:5", "open")
LOOSE_RETURN = Fault("wire:5", "open", moved=True)
LOOSE_FEED = Fault("wire:3", "open", moved=True)
CHAFED = Fault("wire:6", "earthed")


@cache
def bike() -> Harness:
    return horn_and_tail()


def sets() -> Sets:
    return sets_for(bike())


def made(h: Harness, rig: dict[str, object], tool: str, **more: object) -> Test:
    return findings.test_from(h, {"rig": rig, "tool": tool} | more, where="t")


def some_tests(h: Harness) -> list[Test]:
    """Return a test with each tool, on either loom."""
    if "relay" in h.devices:
        on: dict[str, object] = {"switch": "ON"}
        return [
            made(h, on, "eye", device="head"),
            made(h, on, "voltmeter", probe="relay.87"),
            made(h, on, "test-lamp", probe="diode.k"),
            made(h, on, "ammeter", wire="5"),
            made(h, {}, "eye", device="fuse"),
            made(h, LEAD_OFF, "ohmmeter", probe="relay.86", clip="relay.85"),
        ]
    return [
        made(h, HORN, "eye", device="horn"),
        made(h, BRAKE, "eye", device="rear-lamp.stop"),
        made(h, HORN, "voltmeter", probe="horn.2"),
        made(h, PARK, "test-lamp", probe="rear-lamp.T"),
        made(h, ON, "ammeter", wire="2"),
        made(h, {}, "eye", device="main-fuse"),
        made(h, LEAD_OFF, "ohmmeter", probe="horn.1", clip="rear-lamp.E"),
    ]


def drawn_sets(h: Harness, sizes: tuple[int, ...], seed: int) -> list[FaultSet]:
    """Return seeded sets of so many faults on different segments."""
    random, every = np.random.default_rng(seed), single_faults(h)
    out: list[FaultSet] = []
    while len(out) < len(sizes):
        picked = random.choice(len(every), sizes[len(out)], replace=False).tolist()
        faults = tuple(sorted(every[i] for i in picked))
        segments = [s for fault in faults for s in fault.segments]
        if len(set(segments)) == len(segments):
            out.append(faults)
    return out


@pytest.mark.parametrize(
    "h", [horn_and_tail(), relay_and_charger()], ids=["plain", "relay"]
)
def test_readings_are_those_of_a_circuit_with_all_the_faults_in_it(h: Harness) -> None:
    many = [(), *drawn_sets(h, (1,) * 8 + (2,) * 14 + (3,) * 6, seed=7)]
    tests, alone = some_tests(h), Enumeration(h)
    shown = sets_for(h).shown(tests, many)
    for test, row in zip(tests, shown, strict=True):
        # A test lamp may turn relays and diodes over; what it then lights is settled
        # within a tenth of a volt.
        away = 0.1 if test.tool == "test-lamp" else 2e-5
        for faults, value in zip(many, row.tolist(), strict=True):
            steady = tuple(f for f in faults if not f.moved)
            exact = alone.shown(test, steady)
            assert value == pytest.approx(exact, rel=1e-6, abs=away), (test, faults)


def test_the_order_in_which_faults_are_named_does_not_matter() -> None:
    faults = (CHAFED, Fault("wire:2", "resistive", 3.0), OPEN_RETURN)
    tests = some_tests(bike())
    first, *others = (
        sets().shown(tests, [order])[:, 0] for order in permutations(faults)
    )
    for other in others:
        assert other == pytest.approx(first, abs=1e-9)


def test_each_short_has_opened_its_fuse_before_another_fault_was_there() -> None:
    assert sets().opened(()) == frozenset()
    assert sets().opened((CHAFED,)) == {"fuse:main-fuse"}
    # By the time that wire 2 came off, the fuse had gone.
    both = tuple(sorted((CHAFED, Fault("wire:2", "open"))))
    assert sets().opened(both) == {"fuse:main-fuse"}
    assert (
        sets().shown([made(bike(), {}, "eye", device="main-fuse")], [both])[0, 0] == 1.0
    )


def test_a_fault_that_no_drawing_knows_is_read_as_well() -> None:
    # 1.7 ohm in the horn's return: 12.6 V over 4.8 and 1.7 ohm and the loom's own.
    sized = (Fault("wire:5", "resistive", 1.7),)
    test = made(bike(), HORN, "voltmeter", probe="horn.2")
    shown = sets().shown([test], [sized, (*sized, Fault("wire:10", "open"))])[0]
    assert shown[0] == pytest.approx(12.6 * 1.7 / (1.7 + 4.8), abs=0.05)
    assert shown[1] == pytest.approx(shown[0], abs=1e-6)
    assert shown[0] == pytest.approx(Enumeration(bike()).shown(test, sized), abs=1e-6)


def test_at_rest_an_intermittent_contact_is_sound() -> None:
    tests = some_tests(bike())
    sound, loose = sets().shown(tests, [(), (LOOSE_RETURN,)]).T
    assert loose == pytest.approx(sound, abs=1e-12)


def seen(reads: str, *, moving: bool) -> Finding:
    given = {"rig": HORN, "tool": "eye", "device": "horn", "reads": reads}
    return finding_from(bike(), given | {"moving": moving}, id_="f")


def test_while_the_loom_is_moved_it_is_as_likely_open_as_not() -> None:
    both = tuple(sorted((LOOSE_RETURN, LOOSE_FEED)))
    several: list[FaultSet] = [(), (OPEN_RETURN,), (LOOSE_RETURN,), both]
    dead, works = (
        np.exp(sets().log_likelihood([seen(reads, moving=True)], several)[0])
        for reads in ("dead", "works")
    )
    assert dead[2] == pytest.approx((dead[0] + dead[1]) / 2)
    assert works[2] == pytest.approx((works[0] + works[1]) / 2)
    # Of two, one is open in three cases of four, and either is enough.
    assert dead[3] == pytest.approx((dead[0] + 3 * dead[1]) / 4)
    assert works[3] == pytest.approx((works[0] + 3 * works[1]) / 4)


def test_findings_at_rest_and_moving_are_weighed_each_in_its_way() -> None:
    several: list[FaultSet] = [(), (OPEN_RETURN,), (LOOSE_RETURN,)]
    findings = [
        seen("works", moving=False),
        seen("dead", moving=True),
        seen("works", moving=True),
    ]
    together = sets().log_likelihood(findings, several)
    for row, finding in zip(together, findings, strict=True):
        assert row == pytest.approx(sets().log_likelihood([finding], several)[0])
    assert together[0, 0] == pytest.approx(together[0, 2]), "sound at rest"
    assert together[0, 1] < together[0, 2] - 4.0


def test_a_dead_consumer_is_dead_whatever_volts_it_gets() -> None:
    test = made(bike(), HORN, "eye", device="horn")
    faults = tuple(sorted((Fault("device:horn", "dead"), Fault("wire:10", "open"))))
    assert sets().shown([test], [faults])[0, 0] == 0.0


def test_sets_of_different_sizes_stand_side_by_side() -> None:
    h = starter()
    test = made(h, {"button": "IN"}, "eye", device="motor")
    several: list[FaultSet] = [
        (),
        (Fault("wire:4", "open"),),
        (Fault("relay:relay.contact", "stuck"), Fault("wire:4", "open")),
    ]
    shown = sets_for(h).shown([test], several)[0]
    assert shown[0] == pytest.approx(1.0)
    assert shown[1] == pytest.approx(0.0, abs=1e-9), "the relay's coil has no return"
    assert shown[2] == pytest.approx(1.0, abs=0.01), "a stuck contact needs no coil"
