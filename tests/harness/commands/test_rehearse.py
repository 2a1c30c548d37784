"""``python -m harness rehearse``: how a bike's faults would be found."""

import json
from pathlib import Path

import pytest

from harness.commands.rehearse import in_words
from tests.harness.commands.shell import harness

# A horn on a button: few faults, so that a rehearsal is short.
HORN = """\
schema = 1
title = "Horn alone"
volts = 12
earth = "negative"

[devices]
battery = { kind = "battery" }
frame = { kind = "body" }
fuse = { kind = "fuse", amps = 10 }
button = { kind = "switch", positions = ["OUT", "IN"], joins = { IN = [["1", "2"]] } }
horn = { kind = "load", ohms = 4.8 }
"""
ENDS = (
    ("battery.pos", "fuse.1"),
    ("fuse.2", "button.1"),
    ("button.2", "horn.1"),
    ("horn.2", "frame.horn"),
    ("battery.neg", "frame.battery"),
)
HORN += "".join(
    f'[[wires]]\nid = "{n}"\nfrom = "{a}"\nto = "{b}"\nmm2 = 1\nmetres = 0.5\n'
    for n, (a, b) in enumerate(ENDS, start=1)
)


@pytest.fixture
def bike(tmp_path: Path) -> str:
    path = tmp_path / "bike.toml"
    path.write_text(HORN, encoding="utf-8")
    return str(path)


def test_every_noticeable_fault_is_played_and_counted(bike: str) -> None:
    shown = harness("rehearse", bike, "--processes", "1", "--json")
    assert shown.code == 0
    told = json.loads(shown.out)
    assert (told["pairs"], told["noise"]) == (False, 0.0)
    assert told["hunts"] > 20
    assert told["isolated"] == pytest.approx(1.0)
    assert told["not_isolated"] == []
    assert 0 < told["tests"]["mean"] <= told["tests"]["most"]
    assert told["tests"]["mean"] < told["walking_tests"]
    lines = shown.err.splitlines()
    assert lines[-1] == f"{told['hunts']} of {told['hunts']} faults"
    said = in_words(told)
    assert said.startswith(f"{told['hunts']} single faults played\n")
    assert f"{told['tests']['mean']:.1f} on average" in said
    assert "walking from the battery" in said
    assert "Not isolated" not in said


def test_pairs_with_wrong_readings_are_told_as_such() -> None:
    spread = {"mean": 6.25, "most": 11}
    said = in_words(
        {
            "pairs": True,
            "noise": 0.05,
            "hunts": 200,
            "isolated": 0.965,
            "tests": spread,
            "minutes": spread,
            "top": 0.91,
            "top_three": 0.98,
            "entropy_bits": 7.3,
            "calibration_error": 0.0213,
            "not_isolated": [[["wire:7", "open"], ["wire:9", "earthed"]]],
        }
    )
    assert said.splitlines() == [
        "200 pairs of faults played, 5% of the readings wrong",
        "  isolated               96.5%",
        "  tests                  6.2 on average, 11 at most",
        "  minutes                6.2 on average, 11 at most",
        "  right answer first     91.0%",
        "  among the first three  98.0%",
        "  information wanted     7.3 bits",
        "  calibration error      0.021",
        "Not isolated:",
        "  wire:7 open and wire:9 earthed",
    ]


@pytest.mark.parametrize(
    ("more", "why"),
    [
        (["--noise", "1"], "not between 0 and 1"),
        (["--noise", "nan"], "not between 0 and 1"),
        (["--noise", "much"], "is not a number"),
        (["--processes", "0"], "not a number from 1 to"),
        (["--processes", "-1"], "not a number from 1 to"),
    ],
)
def test_wrong_use_is_told(
    bike: str, more: list[str], why: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as left:
        harness("rehearse", bike, *more)
    assert left.value.code == 2
    assert why in capsys.readouterr().err


def test_a_bad_file_is_told_before_anything_is_played(tmp_path: Path) -> None:
    path = tmp_path / "bad.toml"
    path.write_text('schema = 1\ntitle = "x"\n', encoding="utf-8")
    told = harness("rehearse", str(path))
    assert told.code == 1
    assert str(path) in told.err
