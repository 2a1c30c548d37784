"""What a file says of the whole bike, and of its places."""

import pytest

from harness.files import loads
from harness.kinds import Relay
from harness.model import Place
from tests.harness.written import GOOD, only_problem, spoiled, swapped


def test_the_head_of_the_file() -> None:
    h = loads(GOOD)
    assert (h.title, h.volts, h.earth) == ("Horn, tail and starter", 12.0, "negative")


@pytest.mark.parametrize("volts", ["6", "12", "24", "6.0"])
def test_the_systems_there_are(volts: str) -> None:
    text = swapped("volts = 12\nearth", f"volts = {volts}\nearth")
    assert loads(text).volts == float(volts)


@pytest.mark.parametrize(
    ("old", "new", "what", "mend"),
    [
        ("volts = 12\ne", "volts = 11\ne", "volts is 11", "6, 12 or 24"),
        ("volts = 12\ne", 'volts = "12"\ne', 'volts is "12"', "6, 12 or 24"),
        ("volts = 12\ne", "volts = true\ne", "volts is true", "6, 12 or 24"),
        ("volts = 12\ne", "volts = nan\ne", "volts is nan", "6, 12 or 24"),
        ('"negative"', '"minus"', 'earth is "minus"', "negative or positive"),
        ('"negative"', "0", "earth is a whole number", "quotes"),
        ("schema = 1", "schema = 2", "schema is 2", "schema = 1"),
        ("schema = 1", "schema = 1.0", "schema is 1.0", "schema = 1"),
        ("schema = 1", "schema = true", "schema is true", "schema = 1"),
        ("schema = 1", 'schema = "1"', 'schema is "1"', "schema = 1"),
        ('"Horn, tail and starter"', "5", "title is a whole number", "quotes"),
        ("access_minutes = 4", "access_minutes = -1", "above zero", "minutes"),
        ("access_minutes = 4", "minutes = 4", "no key", "access_minutes"),
        ("[places.tray]", "[places.tray]\nname = 1", "name is a whole", "quotes"),
    ],
)
def test_what_the_head_and_the_places_refuse(
    old: str, new: str, what: str, mend: str
) -> None:
    problem = only_problem(swapped(old, new))
    assert what in problem.what
    assert mend in problem.mend


@pytest.mark.parametrize("key", ["schema", "volts", "earth"])
def test_what_the_head_must_have(key: str) -> None:
    lines = GOOD.split("\n")
    del lines[[line.split(" ")[0] for line in lines].index(key)]
    problem = only_problem("\n".join(lines))
    assert problem.what == f"{key} is missing"
    assert f"{key} = " in problem.mend


def test_polarity_is_never_assumed() -> None:
    assert "positive" in only_problem(GOOD.replace('earth = "negative"\n', "")).mend
    positive = loads(swapped('"negative"', '"positive"'))
    assert (positive.earthed_pin, positive.feed_pin) == ("battery.pos", "battery.neg")


def test_a_title_is_a_courtesy() -> None:
    text = GOOD.replace('title = "Horn, tail and starter"\n', "")
    assert loads(text).title == "Untitled harness"
    assert loads(text, name="lib/roadster-1957.toml").title == "roadster 1957"


def test_places_have_names_and_minutes() -> None:
    places = loads(GOOD).places
    assert places["headlamp-shell"] == Place("headlamp-shell", "Headlamp shell", 4.0)
    assert places["tray"] == Place("tray", "tray", 0.0)


def test_a_place_may_cost_no_time() -> None:
    places = loads(swapped("access_minutes = 4", "access_minutes = 0")).places
    assert places["headlamp-shell"].access_minutes == 0


def test_a_relay_has_a_break_contact_where_a_wire_uses_it() -> None:
    relay = loads(GOOD).devices["starter"]
    assert isinstance(relay.spec, Relay)
    assert not relay.spec.has_break_contact
    assert "87a" not in relay.pins
    wired = GOOD + '[[wires]]\nid = "9"\nfrom = "starter.87a"\nto = "j1.1"\nohms = 1\n'
    relay = loads(wired).devices["starter"]
    assert isinstance(relay.spec, Relay)
    assert relay.spec.has_break_contact
    assert relay.pins == ("85", "86", "30", "87", "87a")


def test_devices_and_wires_know_their_lines() -> None:
    h = loads(GOOD)
    lines = GOOD.split("\n")
    for device in h.devices.values():
        assert lines[(device.line or 0) - 1] == f"[devices.{device.id}]"
    for wire in h.wires.values():
        assert lines[wire.line or 0] == f'id = "{wire.id}"'


def test_a_schema_that_is_not_ours_is_told_at_its_line() -> None:
    assert spoiled("schema = 1", "schema = 7").line == 1
