"""A small good harness as text, and ways to spoil it."""

from harness.errors import HarnessError, Problem
from harness.files import loads

GOOD = """\
schema = 1
title = "Horn, tail and starter"
volts = 12
earth = "negative"

[places.headlamp-shell]
name = "Headlamp shell"
access_minutes = 4

[places.tray]

[devices.battery]
kind = "battery"
emf = 12.6
place = "tray"

[devices.frame]
kind = "body"

[devices.main-fuse]
kind = "fuse"
amps = 15

[devices.key-switch]
kind = "switch"
positions = ["OFF", "ON", "PARK"]
joins = { ON = [["30", "15", "57"]], PARK = [["30", "57"]] }

[devices.horn]
kind = "load"
watts = 30
at_volts = 12

[devices.rear-lamp]
kind = "lamp"
filaments = [
  { name = "tail", pins = ["T", "E"], watts = 5 },
  { name = "stop", pins = ["S", "E"], watts = 21 },
]

[devices.tail-plug]
kind = "plug"
cavities = ["1", "2"]
place = "headlamp-shell"

[devices.starter]
kind = "relay"
coil_ohms = 40

[devices.box]
kind = "box"
links = [{ between = ["a", "b"], ohms = 12 }]

[devices.j1]
kind = "joint"

[[wires]]
id = "1"
from = "battery.pos"
to = "main-fuse.1"
colour = "RD"
mm2 = 2.5
metres = 0.4

[[wires]]
id = "2"
from = "main-fuse.2"
to = "key-switch.30"
colour = "RDWH"
awg = 14
metres = 0.9
place = "headlamp-shell"

[[wires]]
id = "3"
from = "key-switch.15"
to = "horn.1"
colour = "gnye"
mm2 = 1
metres = 0.6

[[wires]]
id = "4"
from = "horn.2"
to = "frame.a"
kind = "strap"
ohms = 0.01

[[wires]]
id = "5"
from = "battery.neg"
to = "frame.b"
kind = "mount"

[[wires]]
id = "6"
from = "key-switch.57"
to = "tail-plug.1a"
colour = "GY"
mm2 = 0.75
metres = 1.2

[[wires]]
id = "7"
from = "tail-plug.1b"
to = "rear-lamp.T"
colour = "GY"
mm2 = 0.75
metres = 0.8
"""


def line_of(text: str, words: str) -> int:
    """Return the line, from 1, on which some words first stand."""
    return text[: text.index(words)].count("\n") + 1


def swapped(old: str, new: str, *, text: str = GOOD) -> str:
    """Return the text with one stretch of it replaced; it must be there."""
    assert old in text
    return text.replace(old, new, 1)


def problems_of(text: str) -> tuple[Problem, ...]:
    """Return what is wrong with a text; none if it loads."""
    try:
        loads(text, name="bike.toml")
    except HarnessError as error:
        return error.problems
    return ()


def only_problem(text: str) -> Problem:
    """Return the one thing that is wrong with a text."""
    problems = problems_of(text)
    assert len(problems) == 1, problems
    return problems[0]


def spoiled(old: str, new: str) -> Problem:
    """Return the one problem of the good text after a swap; it stands at the swap."""
    problem = only_problem(swapped(old, new))
    assert problem.line == line_of(GOOD, old), problem
    return problem
