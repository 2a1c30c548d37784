"""Why a segment is suspect or faulty, and what it competes with."""

from harness.explain.suspicion import RIVALS_TOLD
from tests.harness.conflict.cases import Given
from tests.harness.explain.hunts import (
    DROP,
    LIT_AT_HORN,
    PAIR,
    WEAK,
    WORKS,
    explained,
    sentences,
    spoken,
)
from tests.harness.small_looms import DEAD_HORN, HIGH_RETURN, HORN


def test_each_finding_says_what_it_would_have_read_either_way() -> None:
    told = sentences("wire:5", DEAD_HORN, WORKS, LIT_AT_HORN, HIGH_RETURN)
    assert told[0].endswith("is faulty (over 99 %).")
    assert told[1].startswith("Likeliest it is open (")
    assert told[2].startswith("Finding f1 (horn by eye")
    assert told[2].endswith(
        "With it open the horn would have been dead; with it sound the horn would have "
        "worked."
    )
    assert told[3].endswith(
        "12.4 V). With it open the meter would have read 12.6 V; with it sound the "
        "meter would have read 0.02 V."
    )


def test_a_bad_contact_is_told_with_its_size_and_the_drop_that_it_makes() -> None:
    button = "switch:horn-button.PRESSED.1-2"
    told = spoken(button, WEAK, WORKS, {**DROP, "reads": 4.7})
    assert "Likeliest it is making bad contact (about 3 ohm)" in told
    assert "the horn would have been weak (62 % of its volts)" in told
    assert "the meter would have read 4.79 V; with it sound" in told


def test_what_it_competes_with_is_named_with_what_would_tell() -> None:
    told = explained("wire:5", DEAD_HORN, WORKS, LIT_AT_HORN)
    text = [step["sentence"] for step in told["steps"]]
    also = next(line for line in text if line.startswith("It may also be this"))
    assert "horn is dead inside (6" in also
    tell = next(line for line in text if line.startswith("What would tell: "))
    assert "speaks for it" in tell
    assert "against" in tell
    named = next(s for s in told["steps"] if s["sentence"] == also)
    assert "device:horn" in named["segments"]
    assert also.count("%)") <= RIVALS_TOLD


def test_of_two_faults_each_says_what_it_explains() -> None:
    told = spoken("device:rear-lamp.tail", *PAIR)
    assert "Likeliest it is dead inside, and wire 5 (black, BK)" in told
    assert "is open at the same time" in told
    assert "is open explains f1 and f4, which this segment alone does not." in told
    assert "(given that wire 5 (black, BK)" in told
    other = spoken("wire:5", *PAIR)
    assert "rear lamp, tail is dead inside explains f2" in other


def test_a_conclusion_that_hangs_on_one_reading_says_so() -> None:
    told = explained("wire:5", DEAD_HORN, WORKS, HIGH_RETURN)
    assert told["verdict"] == "faulty"
    last = told["steps"][-1]
    assert last["sentence"].startswith("It hangs on f3 alone: were that a slip, it")
    assert "horn is dead inside" in last["sentence"]
    assert "To be sure: " in last["sentence"]
    assert last["findings"] == ["f3"]
    assert last["segments"] == ["wire:5", "device:horn"]


def test_one_that_two_readings_agree_on_hangs_on_neither() -> None:
    lamp: Given = {"rig": HORN, "tool": "test-lamp", "probe": "horn.2", "reads": "lit"}
    told = spoken("wire:5", DEAD_HORN, WORKS, HIGH_RETURN, lamp)
    assert "hangs on" not in told


def test_an_intermittent_contact_is_told_by_the_finding_taken_while_moving() -> None:
    works: Given = {**DEAD_HORN, "reads": "works"}
    moving: Given = {**DEAD_HORN, "moving": True}
    told = explained("wire:5", works, WORKS, moving)
    assert told["verdict"] == "suspect"
    text = " ".join(step["sentence"] for step in told["steps"])
    assert "Likeliest it is opening when the loom is moved" in text
    assert "taken while the loom was moved, which parts such a contact" in text
