"""Consumers are found, each in the simplest rig that puts it to work."""

from collections.abc import Callable

import pytest

from harness.consumers import consumers, ordinary_rigs
from harness.model import Harness
from harness.operating import solve
from harness.rig import rig_from
from tests.harness.library import LOOMS, WORKS_IN, loom
from tests.harness.small_looms import (
    BRAKE,
    HORN,
    ON,
    PARK,
    bulbs_in_series,
    horn_and_tail,
    positive_earth,
    relay_and_charger,
    starter,
)


def test_each_consumer_comes_with_its_simplest_rig() -> None:
    h = horn_and_tail()
    found = [(c.device, c.rig.as_mapping()) for c in consumers(h)]
    assert found == [
        ("horn", HORN),
        ("rear-lamp.stop", BRAKE),
        ("rear-lamp.tail", ON),
        ("rear-lamp.tail", PARK),
    ]


def test_a_consumer_has_its_segment_ends_and_a_name_for_people() -> None:
    stop = next(c for c in consumers(horn_and_tail()) if c.device == "rear-lamp.stop")
    assert stop.segment == "device:rear-lamp.stop"
    assert stop.ends == ("rear-lamp.S", "rear-lamp.E")
    assert stop.name == "rear lamp, stop"


@pytest.mark.parametrize("file", LOOMS)
def test_every_consumer_of_a_whole_bike_is_found_where_it_should_work(
    file: str,
) -> None:
    h = loom(file)
    found = {c.device: c.rig for c in reversed(consumers(h))}
    assert set(found) == set(WORKS_IN[file])
    for c in consumers(h):
        volts = solve(h, c.rig).volts
        drop_v = abs(volts[c.ends[0]] - volts[c.ends[1]])
        assert drop_v > 0.8 * h.volts, c
        # No more switches than the table's own rig moves.
        least = min(len(x.rig.moved) for x in consumers(h) if x.device == c.device)
        assert least <= len(WORKS_IN[file][c.device])


@pytest.mark.parametrize("file", LOOMS)
def test_every_switch_of_a_consumer_s_rig_is_needed(file: str) -> None:
    h = loom(file)
    for c in consumers(h):
        for switch, _ in c.rig.moved:
            rest = {k: v for k, v in c.rig.moved if k != switch}
            volts = solve(h, rig_from(h, rest)).volts
            assert abs(volts[c.ends[0]] - volts[c.ends[1]]) < 0.4 * h.volts, c


def test_a_relay_s_load_is_found_behind_the_relay() -> None:
    found = {c.device: c.rig.moved for c in consumers(starter())}
    assert found == {"motor": (("button", "IN"),)}
    two = {c.device: c.rig.moved for c in consumers(relay_and_charger())}
    on = (("switch", "ON"),)
    assert two == {"head": on, "rest-lamp": (), "warning": on}


def test_what_never_works_is_left_out() -> None:
    # Each of ten bulbs in series has a tenth of the volts: can anyone say it works?
    assert consumers(bulbs_in_series(10)) == ()


@pytest.mark.parametrize("make", [horn_and_tail, relay_and_charger, starter])
def test_positive_earth_finds_the_same(make: Callable[[], Harness]) -> None:
    one, two = make(), positive_earth(make())
    assert [(c.device, c.rig) for c in consumers(one)] == [
        (c.device, c.rig) for c in consumers(two)
    ]
    assert ordinary_rigs(one) == ordinary_rigs(two)


def test_ordinary_rigs_are_rest_the_consumers_and_the_engine_running() -> None:
    plain = ordinary_rigs(horn_and_tail())
    assert plain[0].moved == ()
    assert {rig.engine for rig in plain} == {"stopped"}
    assert {c.rig for c in consumers(horn_and_tail())} <= set(plain)
    charged = ordinary_rigs(relay_and_charger())
    running = [rig for rig in charged if rig.engine == "running"]
    assert [rig.moved for rig in running] == [(("switch", "ON"),)]
    assert len(set(charged)) == len(charged)
