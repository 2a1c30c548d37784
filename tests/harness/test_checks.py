"""How the parts of a harness must fit together."""

import pytest

from harness.errors import Problem
from harness.files import loads
from tests.harness.written import GOOD, only_problem, problems_of, spoiled, swapped


def wire(wire_id: str, start: str, end: str) -> str:
    return f'[[wires]]\nid = "{wire_id}"\nfrom = "{start}"\nto = "{end}"\nohms = 0.1\n'


@pytest.mark.parametrize(
    ("old", "new", "what", "mend"),
    [
        ('place = "tray"', 'place = "try"', 'no place "try"', 'did you mean "tray"?'),
        ('"horn.1"', '"hron.1"', 'no device "hron"', 'did you mean "horn"?'),
        ('"horn.1"', '"horn.3"', 'horn has no pin "3"', "pins of horn are 1, 2"),
        ('"battery.pos"', '"battery.pls"', "battery has no pin", "are pos, neg"),
        ('"rear-lamp.T"', '"rear-lamp.1"', "rear-lamp has no pin", "T, E, S"),
        ('"tail-plug.1a"', '"tail-plug.1"', "tail-plug has no pin", "1a"),
        ('"key-switch.57"', '"key-switch.58"', "key-switch has no pin", "57"),
    ],
)
def test_wires_and_places_must_be_there(
    old: str, new: str, what: str, mend: str
) -> None:
    problem = spoiled(old, new)
    assert what in problem.what
    assert mend in problem.mend


def test_a_wires_place_must_be_declared_too() -> None:
    text = GOOD.replace('0.9\nplace = "headlamp-shell"', '0.9\nplace = "lamp"')
    assert only_problem(text).where == "wires.2.place"


def test_no_places_at_all() -> None:
    text = 'schema = 1\nvolts = 6\nearth = "positive"\n[devices.battery]\n'
    problem = only_problem(text + 'kind = "battery"\nplace = "tray"\n')
    assert problem.mend == "there are no places yet: declare it first"


def test_joints_and_bodies_have_whatever_pins_wires_name() -> None:
    h = loads(GOOD + wire("8", "j1.any", "frame.lug-3") + wire("9", "j1.B+", "horn.2"))
    assert h.devices["j1"].pins == ("B+", "any")
    assert h.devices["frame"].pins == ("a", "b", "lug-3")


def test_a_relays_break_contact_is_offered_though_no_wire_uses_it_yet() -> None:
    problem = only_problem(GOOD + wire("9", "starter.87b", "j1.1"))
    assert problem.mend.endswith("85, 86, 30, 87, 87a")


@pytest.mark.parametrize(
    "word", ["engine", "battery-lead", "unplugged", "removed", "jumpers"]
)
def test_a_switch_cannot_have_a_name_that_rigs_use(word: str) -> None:
    text = GOOD.replace("key-switch", word)
    problem = only_problem(text)
    assert problem.where == f"devices.{word}"
    assert f"cannot be called {word}" in problem.what


def test_the_engine_may_be_a_body() -> None:
    assert "engine" in loads(GOOD.replace("frame", "engine")).devices


def test_a_bike_has_a_battery() -> None:
    text = 'schema = 1\nvolts = 12\nearth = "negative"\n[devices.frame]\nkind = "body"'
    problem = only_problem(text)
    assert problem.what == "there is no battery"
    assert problem.line == 4


def short(*extra: str) -> Problem:
    return only_problem(GOOD + "".join(extra))


def test_wires_alone_may_not_short_the_battery() -> None:
    problem = short(wire("9", "battery.pos", "battery.neg"))
    assert problem.what == "wires alone join both poles of battery: 9"
    assert problem.where == "wires.9"


def test_a_short_by_way_of_frame_joint_and_plug_is_found() -> None:
    problem = short(
        wire("10", "battery.pos", "j1.1"),
        wire("11", "j1.2", "tail-plug.2b"),
        wire("12", "tail-plug.2a", "frame.x"),
    )
    assert problem.what.endswith("battery: 10, 11, 12, 5")


def test_a_short_by_a_mount_of_the_wrong_pole_is_found() -> None:
    both = GOOD + '[[wires]]\nid = "9"\nfrom = "battery.pos"\nto = "frame.x"\n'
    assert only_problem(both + 'kind = "mount"').what.endswith("battery: 9, 5")


@pytest.mark.parametrize(
    "way",
    [
        wire("9", "main-fuse.2", "frame.x"),
        wire("9", "key-switch.15", "frame.x"),
        wire("9", "box.a", "battery.pos") + wire("10", "box.b", "frame.x"),
    ],
)
def test_a_fuse_a_switch_or_a_consumer_in_between_is_no_short(way: str) -> None:
    assert problems_of(GOOD + way) == ()


def test_a_charger_may_not_be_shorted_either() -> None:
    charger = '[devices.charger]\nkind = "charger"\n'
    shorted = wire("8", "charger.pos", "j1.1") + wire("9", "j1.2", "charger.neg")
    text = swapped("[devices.j1]", charger + "[devices.j1]") + shorted
    assert only_problem(text).what.endswith("poles of charger: 8, 9")


def test_two_batteries_in_series_are_good() -> None:
    second = '[devices.second]\nkind = "battery"\nemf = 6\n\n[devices.j1]'
    text = swapped("[devices.j1]", second)
    text = text.replace('from = "battery.neg"', 'from = "second.neg"')
    assert problems_of(text + wire("9", "battery.neg", "second.pos")) == ()
