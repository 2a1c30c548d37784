"""The case looms are whole bikes, each different in kind; grown ones are as asked."""

import pytest

import harness
from harness.consumers import consumers, ordinary_rigs
from harness.errors import SingularNetwork
from harness.kinds import KIND_OF, Charger, Lamp, Load, Motor, Plug, Relay
from tests.harness.grown import grown
from tests.harness.library import CASE_LOOMS, WREN, loom

# Of nominal volts; a starter draws the whole loom down.
WORKS_RATIO = 0.84
SIZES = (60, 120, 300, 600)


def ids(h: harness.Harness, *specs: type) -> set[str]:
    return {d.id for d in h.devices.values() if isinstance(d.spec, specs)}


def seen_to_work(h: harness.Harness) -> set[str]:
    return {said["device"].partition(".")[0] for said in harness.complaints(h)}


@pytest.mark.parametrize("file", CASE_LOOMS)
def test_every_consumer_works_in_a_rig_of_its_own(file: str) -> None:
    h = loom(file)
    for consumer in consumers(h):
        volts = harness.solve(h, rig=consumer.rig).volts
        one, two = consumer.ends
        assert abs(volts[one] - volts[two]) >= WORKS_RATIO * h.volts, consumer.device
    assert ids(h, Lamp, Load, Motor) == seen_to_work(h)


@pytest.mark.parametrize("file", CASE_LOOMS)
def test_every_ordinary_rig_has_rest_and_blows_nothing(file: str) -> None:
    h = loom(file)
    for rig in ordinary_rigs(h):
        try:
            assert harness.solve(h, rig=rig).blown == ()
        except SingularNetwork as error:
            pytest.fail(f"{rig.moved}: {error}")


@pytest.mark.parametrize("file", CASE_LOOMS)
def test_every_device_and_wire_end_has_a_place_and_access_takes_time(file: str) -> None:
    h = loom(file)
    assert [d.id for d in h.devices.values() if d.place is None] == []
    assert all(place.access_minutes > 0 for place in h.places.values())
    assert all(w.kind == "mount" or w.colour for w in h.wires.values())


def test_the_case_looms_differ_in_kind() -> None:
    looms = [loom(file) for file in CASE_LOOMS]
    systems = {(h.volts, h.earth) for h in looms}
    assert {(v, e) for v in (6, 12) for e in ("negative", "positive")} < systems
    assert {KIND_OF[type(d.spec)] for h in looms for d in h.devices.values()} == {
        *KIND_OF.values()
    }
    assert min(len(ids(h, Plug)) for h in looms) == 0
    assert max(len(ids(h, Relay)) for h in looms) >= 4
    assert sum(bool(ids(h, Charger)) for h in looms) >= 6
    assert len(looms) >= 6


def test_all_but_the_smallest_are_of_the_size_of_a_bike() -> None:
    wires = {file: len(loom(file).wires) for file in CASE_LOOMS}
    assert all(25 <= n <= 130 for file, n in wires.items() if file != WREN), wires
    assert 12 <= len(harness.segments_of(loom(WREN))) <= 20


@pytest.mark.parametrize("segments", SIZES)
def test_a_grown_loom_has_as_many_segments_as_it_was_asked_for(segments: int) -> None:
    h = grown(segments)
    assert len(harness.segments_of(h)) == segments
    assert ids(h, Lamp, Load, Motor) == seen_to_work(h)
    assert all(not harness.solve(h, rig=rig).blown for rig in ordinary_rigs(h))


def test_a_grown_loom_is_the_same_each_time() -> None:
    before = grown(120).digest
    grown.cache_clear()
    assert grown(120).digest == before


def test_a_loom_of_three_hundred_segments_has_a_dozen_ordinary_rigs() -> None:
    assert len(ordinary_rigs(grown(300))) >= 12
