"""Every kind of device: defaults as agreed, and what each refuses."""

import pytest

from harness.files import loads
from harness.kinds import (
    Battery,
    Body,
    Box,
    Charger,
    Diode,
    Filament,
    Fuse,
    Joint,
    Lamp,
    Link,
    Load,
    Motor,
    Plug,
    Relay,
    Spec,
    fixed_pins,
)
from tests.harness.written import GOOD, only_problem, spoiled


def device(body: str, *, volts: int = 12) -> Spec:
    """Return the kind of one device of a harness of nothing else but a battery."""
    head = f'schema = 1\nvolts = {volts}\nearth = "positive"\n'
    battery = '[devices.battery]\nkind = "battery"\n'
    text = head + battery + f"[devices.x]\n{body}\n"
    return loads(text).devices["x"].spec


@pytest.mark.parametrize(
    ("body", "spec"),
    [
        ('kind = "battery"', Battery(12.6, 0.02, None)),
        (
            'kind = "battery"\nemf = 12.2\nohms = 0.1\ncapacity_ah = 9',
            Battery(12.2, 0.1, 9),
        ),
        ('kind = "charger"', Charger(14.2, 0.15)),
        ('kind = "charger"\nvolts = 13.8', Charger(13.8, 0.15)),
        ('kind = "fuse"\namps = 15', Fuse(15, 0.1 / 15)),
        ('kind = "fuse"\namps = 15\nohms = 0.004', Fuse(15, 0.004)),
        ('kind = "lamp"\nwatts = 21', Lamp((Filament(None, ("1", "2"), 21, 12),))),
        (
            'kind = "lamp"\nwatts = 5\nat_volts = 13.5',
            Lamp((Filament(None, ("1", "2"), 5, 13.5),)),
        ),
        ('kind = "load"\nohms = 4', Load(4)),
        ('kind = "load"\nwatts = 30', Load(4.8)),
        ('kind = "load"\nwatts = 30\nat_volts = 6', Load(1.2)),
        ('kind = "motor"\nohms = 0.05', Motor(0.05)),
        ('kind = "relay"\ncoil_ohms = 40', Relay(40, 7.2, 0.01)),
        (
            'kind = "relay"\ncoil_ohms = 4\npull_in_volts = 8\nohms = 0.003',
            Relay(4, 8, 0.003),
        ),
        ('kind = "diode"', Diode(0.7, 0.05)),
        ('kind = "plug"\ncavities = ["1", "2"]', Plug(("1", "2"), 0.005)),
        ('kind = "joint"', Joint(0.002)),
        ('kind = "body"', Body()),
        (
            'kind = "box"\nlinks = [{ between = ["a", "b"], ohms = 12 }]',
            Box((Link(("a", "b"), 12),)),
        ),
    ],
)
def test_defaults_are_those_agreed(body: str, spec: Spec) -> None:
    assert device(body) == spec


def test_defaults_follow_the_nominal_volts() -> None:
    assert device('kind = "battery"', volts=6) == Battery(6.3)
    assert device('kind = "charger"', volts=6) == Charger(7.1)
    assert device('kind = "load"\nwatts = 15', volts=6) == Load(2.4)
    assert device('kind = "relay"\ncoil_ohms = 9', volts=6) == Relay(9, 3.6)
    lamp = device('kind = "lamp"\nwatts = 3', volts=6)
    assert lamp == Lamp((Filament(None, ("1", "2"), 3, 6),))


def test_any_device_may_have_a_name_and_a_note() -> None:
    text = GOOD.replace('[devices.horn]\nkind = "load"', HORN_WITH_WORDS)
    horn = loads(text).devices["horn"]
    assert (horn.name, horn.note, horn.place) == ("Horn, low", "loud", "tray")
    assert horn.title == "Horn, low"


HORN_WITH_WORDS = """[devices.horn]
kind = "load"
name = "Horn, low"
note = "loud"
place = "tray"
"""


def test_pins_follow_from_the_kind() -> None:
    h = loads(GOOD)
    assert h.devices["rear-lamp"].pins == ("T", "E", "S")
    assert h.devices["tail-plug"].pins == ("1a", "1b", "2a", "2b")
    assert h.devices["key-switch"].pins == ("30", "15", "57")
    assert h.devices["box"].pins == ("a", "b")
    assert h.devices["frame"].pins == ("a", "b")
    assert fixed_pins(h.devices["j1"].spec) is None


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ('kind = "load"', 'kind = "lod"', 'no kind of device "lod"'),
        ('kind = "load"', "kind = 3", "kind is a whole number, not text"),
        ("watts = 30", "watt = 30", 'a load has no key "watt"'),
        ("at_volts = 12", "volts = 12", 'a load has no key "volts"'),
        ("watts = 30", "watts = 0", "not above zero"),
        ("amps = 15", "amps = -15", "not above zero"),
        ("amps = 15", "amps = true", "true or false, not a number"),
        ("emf = 12.6", "emf = inf", "not a finite number"),
        ("coil_ohms = 40", 'coil_ohms = "40"', "text, not a number"),
        ('cavities = ["1", "2"]', "cavities = []", "no cavities"),
        ('cavities = ["1", "2"]', 'cavities = ["1", "2", "1"]', "a second cavity"),
        ('cavities = ["1", "2"]', 'cavities = ["1", 2]', "a whole number in a list"),
        ('cavities = ["1", "2"]', 'cavities = ["1", "2 3"]', "cannot be a pin"),
        ("links = [", "links = [3, ", "a whole number in a list of tables"),
        ("links = [", "links = 3 # ", "links is a whole number"),
        ('between = ["a", "b"]', 'between = ["a", "a"]', "names a, a"),
        ('between = ["a", "b"]', 'between = ["a"]', "names a"),
        ('between = ["a", "b"]', 'between = ["a", "b.c"]', "cannot be a pin"),
        (", ohms = 12 }", ", ohm = 12, ohms = 12 }", 'a link has no key "ohm"'),
        ('name = "tail"', 'name = "a b"', "cannot be an id"),
        ('name = "stop"', 'name = "tail"', "a second filament"),
        ('pins = ["S", "E"]', 'pins = "S"', "text where a list of texts"),
        ('pins = ["S", "E"]', 'pins = ["S", "S"]', "names S, S"),
        ("watts = 21", "watts = nan", "not a finite number"),
        ("watts = 21", "watts = 21, volts = 12", 'a filament has no key "volts"'),
        ("filaments = [", "watts = 5\nfilaments = [", "watts stands beside filaments"),
    ],
)
def test_what_a_device_refuses(old: str, new: str, what: str) -> None:
    assert what in spoiled(old, new).what


@pytest.mark.parametrize(
    ("drop", "what", "example"),
    [
        ('kind = "load"\n', "kind is missing", "kind = "),
        ("watts = 30\n", "ohms is missing", "watts = "),
        ("amps = 15\n", "amps is missing", "amps = "),
        ("coil_ohms = 40\n", "coil_ohms is missing", "coil_ohms = "),
        ('name = "stop", ', "name is missing", "name = "),
        ('pins = ["S", "E"], ', "pins is missing", "pins = "),
        (", watts = 21", "watts is missing", "watts = "),
        (", ohms = 12", "ohms is missing", "ohms = "),
        ('between = ["a", "b"], ', "between is missing", "between = "),
        ('links = [{ between = ["a", "b"], ohms = 12 }]\n', "links is missing", "="),
    ],
)
def test_what_a_device_must_have(drop: str, what: str, example: str) -> None:
    assert drop in GOOD
    problem = only_problem(GOOD.replace(drop, "", 1))
    assert problem.what == what
    assert example in problem.mend
    assert problem.line


def test_plug_without_cavities_does_not_blame_its_wires() -> None:
    problem = only_problem(GOOD.replace('cavities = ["1", "2"]\n', ""))
    assert problem.what == "cavities is missing"


def test_ohms_and_watts_together_are_refused() -> None:
    problem = only_problem(
        GOOD.replace("watts = 30\nat_volts = 12", "ohms = 4\nwatts = 9")
    )
    assert problem.what == "watts stands beside ohms"
