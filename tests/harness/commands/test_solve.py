"""``python -m harness solve``: numbers that can be worked out by hand."""

import json
from pathlib import Path

import pytest

from tests.harness.commands.shell import harness

# Ohm's law by hand: 12 V behind 1 ohm, a fuse of 1 ohm, a switch of 1 ohm, a load of 6,
# two wires of 1 ohm each and a return of 1 ohm: 12 ohm in all, so 1 A, and the load has
# 6 V across it.
LADDER = """\
schema = 1
title = "Ladder"
volts = 12
earth = "negative"
[devices]
battery = { kind = "battery", emf = 12, ohms = 1 }
fuse = { kind = "fuse", amps = 2, ohms = 1 }
load = { kind = "load", ohms = 6 }
frame = { kind = "body" }
[devices.key]
kind = "switch"
ohms = 1
positions = ["OFF", "ON"]
joins = { ON = [["1", "2"]] }
[[wires]]
id = "a"
from = "battery.pos"
to = "fuse.1"
ohms = 0.5
[[wires]]
id = "b"
from = "fuse.2"
to = "key.1"
ohms = 0.5
colour = "RD"
[[wires]]
id = "c"
from = "key.2"
to = "load.1"
ohms = 1
[[wires]]
id = "d"
from = "load.2"
to = "frame.x"
ohms = 0.5
[[wires]]
id = "e"
from = "battery.neg"
to = "frame.y"
ohms = 0.5
"""


@pytest.fixture
def ladder(tmp_path: Path) -> str:
    path = tmp_path / "ladder.toml"
    path.write_text(LADDER, encoding="utf-8")
    return str(path)


def test_the_ladder_carries_one_ampere(ladder: str) -> None:
    shown = harness("solve", ladder, "--rig", "key=ON", "--json")
    assert (shown.code, shown.err) == (0, "")
    told = json.loads(shown.out)
    assert told["rig"] == {"key": "ON"}
    assert told["amps"]["wire:c"] == pytest.approx(1.0)
    assert told["amps"]["wire:e"] == pytest.approx(-1.0)
    across = told["volts"]["load.1"] - told["volts"]["load.2"]
    assert across == pytest.approx(6.0)
    assert told["volts"]["battery.neg"] == 0
    assert told["residual_a"] < 1e-9
    assert (told["blown"], told["faults"]) == ([], [])


def test_at_rest_nothing_flows(ladder: str) -> None:
    told = json.loads(harness("solve", ladder, "--json").out)
    assert told["rig"] == {}
    assert max(abs(amps) for amps in told["amps"].values()) < 1e-9


def test_faults_are_put_in(ladder: str) -> None:
    # six ohms more in wire c: 12 V over 18 ohm
    fault = ("--fault", "wire:c=resistive:6")
    told = json.loads(harness("solve", ladder, "--rig", "key=ON", *fault, "--json").out)
    assert told["amps"]["wire:c"] == pytest.approx(12 / 18)
    assert told["faults"] == [["wire:c", "resistive", "6"]]
    both = ("--fault", "wire:c=open", "--fault", "wire:d=open")
    told = json.loads(harness("solve", ladder, "--rig", "key=ON", *both, "--json").out)
    assert told["amps"].get("wire:a", 0.0) == pytest.approx(0.0, abs=1e-9)


def test_a_chafed_feed_blows_the_fuse(ladder: str) -> None:
    shown = harness("solve", ladder, "--rig", "key=ON", "--fault", "wire:b=earthed")
    assert shown.code == 0
    assert "blown: fuse" in shown.out


def test_the_tables_in_words(ladder: str) -> None:
    lines = harness("solve", ladder, "--rig", "key=ON").out.splitlines()
    assert lines[0].startswith("Ladder: key")
    assert "  device:load         1.000" in lines
    assert "  b     RD      fuse.2        9.500  key.1     9.000   1.000" in lines


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        (["--rig", "kee=ON"], 'did you mean "key"?'),
        (["--rig", "key=UP"], "has no position"),
        (["--rig", "unplugged=plug"], "no plug"),
        (["--fault", "wire:z=open"], "no such segment"),
        (["--fault", "wire:a=stolen"], "stolen"),
        (["--fault", "wire:a=resistive:-3"], "not positive"),
    ],
)
def test_what_the_bike_has_not_is_wrong_use(
    ladder: str, arguments: list[str], why: str
) -> None:
    shown = harness("solve", ladder, *arguments)
    assert (shown.code, shown.out) == (2, "")
    assert why in shown.err


def test_a_bad_file_is_a_bad_file_whatever_the_rig(tmp_path: Path) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(LADDER.replace("amps = 2", "amps = 0"), encoding="utf-8")
    shown = harness("solve", str(path), "--rig", "kee=ON")
    assert shown.code == 1
    assert "amps is 0" in shown.err


def test_a_relay_that_chatters_has_no_steady_state(tmp_path: Path) -> None:
    # its own break contact feeds its coil: a buzzer
    buzzer = LADDER.replace(
        "frame = ", 'relay = { kind = "relay", coil_ohms = 40 }\nframe = ', 1
    )
    for number, (start, end) in enumerate(
        [("load.1", "relay.30"), ("relay.87a", "relay.85"), ("relay.86", "frame.z")]
    ):
        buzzer += f'[[wires]]\nid = "r{number}"\nfrom = "{start}"\nto = "{end}"\n'
        buzzer += "ohms = 0.01\n"
    buzzer = buzzer.replace("coil_ohms = 40", "coil_ohms = 40, pull_in_volts = 2")
    path = tmp_path / "buzzer.toml"
    path.write_text(buzzer, encoding="utf-8")
    shown = harness("solve", str(path), "--rig", "key=ON", "--json")
    assert shown.code == 1
    assert "there is no steady state" in shown.err
    assert json.loads(shown.out)["good"] is False
