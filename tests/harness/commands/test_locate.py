"""``python -m harness locate``: findings in, what it may be out."""

import json
from pathlib import Path

import pytest

from tests.harness.commands.shell import harness
from tests.harness.written import GOOD

RETURN = """
[[wires]]
id = "8"
from = "rear-lamp.E"
to = "frame.c"
mm2 = 1
metres = 0.3
"""

FINDINGS = """\
# the horn is silent, the tail lamp works
[[findings]]
rig = { key-switch = "ON" }
tool = "eye"
device = "horn"
reads = "dead"

[[findings]]
rig = { key-switch = "ON" }
tool = "eye"
device = "rear-lamp.tail"
reads = "works"
"""

LAMP = """
[[findings]]
id = "at-the-horn"
rig = { key-switch = "ON" }
tool = "test-lamp"
probe = "horn.1"
clip = "frame.a"
reads = "lit"
"""


@pytest.fixture
def bike(tmp_path: Path) -> str:
    path = tmp_path / "bike.toml"
    path.write_text(GOOD + RETURN, encoding="utf-8")
    return str(path)


def findings(bike: str, text: str) -> str:
    path = Path(bike).parent / "findings.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


def test_a_dead_horn_with_a_good_feed_is_the_horn_or_its_return(bike: str) -> None:
    shown = harness("locate", bike, findings(bike, FINDINGS + LAMP), "--json")
    assert (shown.code, shown.err) == (0, "")
    told = json.loads(shown.out)
    assert told["findings"] == ["f1", "f2", "at-the-horn"]
    likely = {tuple(fault["faults"][0]) for fault in told["faults"][:2]}
    assert likely == {("device:horn", "dead"), ("wire:4", "open")}
    assert told["segments"]["wire:3"]["verdict"] == "sound"
    assert "at-the-horn" in told["segments"]["wire:3"]["proof"]
    assert told["conflict"] is None
    assert told["advice"][0]["minutes"] > 0


def test_the_same_in_words(bike: str) -> None:
    shown = harness("locate", bike, findings(bike, FINDINGS + LAMP))
    assert shown.code == 0
    assert shown.out.startswith("What it may be\n")
    assert "horn is dead inside" in shown.out
    assert "sound: battery:battery" in shown.out
    assert "What to test next\n  1. " in shown.out
    assert "{" not in shown.out


def test_a_clamp_and_a_moved_loom_are_findings_of_a_file(bike: str) -> None:
    clamp = """
[[findings]]
rig = { key-switch = "ON" }
tool = "ammeter"
wire = "4"
reads = 0.0
moving = true
"""
    shown = harness("locate", bike, findings(bike, FINDINGS + clamp), "--json")
    assert (shown.code, shown.err) == (0, "")
    told = json.loads(shown.out)
    because = [s["words"] for s in told["segments"].values() if "f3" in s["proof"]]
    assert because
    assert "f3 (clamp meter round strap 4" in because[0]
    assert "while the loom was moved: 0 A)" in because[0]
    missing = clamp.replace('"4"', '"44"')
    path = findings(bike, FINDINGS + missing)
    shown = harness("locate", bike, path)
    assert shown.code == 1
    assert f"{path}:17: f3: '44' is no wire of this harness" in shown.err


def test_findings_that_cannot_both_be_true_are_told_first(bike: str) -> None:
    dark = LAMP.replace("at-the-horn", "again").replace('"lit"', '"dark"')
    path = findings(bike, LAMP + dark)
    shown = harness("locate", bike, path)
    assert shown.code == 0
    assert shown.out.startswith("Conflict\n")
    told = json.loads(harness("locate", bike, path, "--json").out)
    assert set(told["conflict"]["findings"]) <= {"again", "at-the-horn"}


@pytest.mark.parametrize(
    ("old", "new", "line", "what"),
    [
        ('device = "horn"', 'device = "hron"', 5, "hron"),
        ('tool = "eye"', 'tool = "ear"', 4, "ear"),
        ('reads = "dead"', 'reads = "silent"', 6, "silent"),
        ('key-switch = "ON"', 'key-switch = "UP"', 3, "UP"),
        ('reads = "dead"', 'reeds = "dead"', 6, "reeds"),
        ("[[findings]]", "[[finding]]", 2, "finding"),
        ("[[findings]]", "[[findings", 2, "not TOML"),
    ],
)
def test_bad_findings_are_told_with_their_lines(
    bike: str, old: str, new: str, line: int, what: str
) -> None:
    path = findings(bike, FINDINGS.replace(old, new, 1))
    shown = harness("locate", bike, path)
    assert (shown.code, shown.out) == (1, "")
    told = [
        text for text in shown.err.splitlines() if text.startswith(f"{path}:{line}")
    ]
    assert any(what in text for text in told), shown.err


def test_all_bad_findings_are_told_in_one_go(bike: str) -> None:
    text = FINDINGS.replace('"dead"', '"silent"').replace("rear-lamp.tail", "rear")
    shown = harness("locate", bike, findings(bike, text))
    assert len(shown.err.splitlines()) == 2


def test_findings_that_are_no_list_of_tables(bike: str) -> None:
    shown = harness("locate", bike, findings(bike, "findings = [3]"))
    assert shown.code == 1
    assert "a whole number in a list of tables" in shown.err


def test_no_findings_at_all_are_a_slip(bike: str) -> None:
    shown = harness("locate", bike, findings(bike, ""))
    assert shown.code == 1
    assert "findings is missing" in shown.err


def test_why_tells_one_segment_step_by_step(bike: str) -> None:
    path = findings(bike, FINDINGS + LAMP)
    shown = harness("locate", bike, path, "--why", "wire:3")
    assert (shown.code, shown.err) == (0, "")
    verdict, *steps = shown.out.splitlines()
    assert verdict.startswith("Wire 3")
    assert verdict.endswith("is sound.")
    assert steps[0].startswith("  Finding at-the-horn (test lamp")
    told = json.loads(harness("locate", bike, path, "--why", "wire:3", "--json").out)
    assert (told["segment"], told["verdict"]) == ("wire:3", "sound")
    assert [step["sentence"] for step in told["steps"]] == [
        line.strip() for line in shown.out.splitlines()
    ]


def test_why_of_a_segment_that_is_not_there_names_those_near_it(bike: str) -> None:
    shown = harness("locate", bike, findings(bike, FINDINGS), "--why", "wire:33")
    assert (shown.code, shown.out) == (1, "")
    assert "wire:33: this harness has no such segment" in shown.err
