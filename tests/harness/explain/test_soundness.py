"""Why a segment is sound: what would have read otherwise, and at which current."""

from tests.harness.explain.hunts import (
    DROP,
    LIT_AT_HORN,
    WEAK,
    WORKS,
    explained,
    sentences,
    spoken,
)
from tests.harness.small_looms import DEAD_HORN, HIGH_RETURN

HORN_WORKS = {**DEAD_HORN, "reads": "works"}


def test_a_lit_lamp_proves_a_path_and_says_which_load_it_does_not_prove() -> None:
    told = sentences("wire:3", DEAD_HORN, WORKS, LIT_AT_HORN)
    assert told[0].endswith("is sound.")
    assert told[1].startswith("Finding f3 (test lamp from frame")
    assert (
        "With it open, the test lamp would have been dark (0 V across it)." in told[1]
    )
    assert told[2] == (
        "A quarter of an ampere flowed through it then, what a test lamp draws: that "
        "proves a path, not that it carries the 2.6 A of the horn."
    )


def test_a_horn_that_sounds_proves_all_that_its_wire_ever_carries() -> None:
    told = spoken("wire:4", HORN_WORKS)
    assert "With it open, the horn would have been dead." in told
    assert (
        "2.6 A flowed through it then, as much as it ever has to carry "
        "(the 2.6 A of the horn)." in told
    )


def test_a_drop_under_load_states_the_current_that_flowed() -> None:
    told = spoken("wire:3", WEAK, WORKS, {**DROP, "reads": 4.7})
    assert "1.6 A flowed through it then" in told
    assert "it is proven for 1.6 A, not for more" in told
    assert "the 2.6 A of the horn" in told


def test_a_meter_s_trickle_proves_no_load() -> None:
    told = spoken("device:horn", DEAD_HORN, WORKS, LIT_AT_HORN, HIGH_RETURN)
    assert "only a meter's trickle: that proves a path" in told


def test_what_is_judged_beside_a_known_fault_says_so() -> None:
    told = explained("device:horn", DEAD_HORN, WORKS, LIT_AT_HORN, HIGH_RETURN)
    step = told["steps"][1]
    assert "With it dead inside as well (wire 5 (black, BK)" in step["sentence"]
    assert "would have read 0 V" in step["sentence"]
    assert step["findings"] == ["f4"]
    assert step["segments"] == ["device:horn", "wire:5"]


def test_the_proof_of_the_largest_current_is_told_first() -> None:
    told = sentences("wire:2", HORN_WORKS, LIT_AT_HORN, WORKS)
    assert told[1].startswith("Finding f2 ("), "lamp and horn together"
    assert told[2].startswith("Finding f1 (")
    assert told[3] == "One more finding would have read otherwise too."


def test_what_is_left_of_suspicion_says_what_would_show_it() -> None:
    told = spoken("wire:3", WEAK, WORKS, {**DROP, "reads": 4.7})
    assert "What the findings leave of suspicion (under 1 %): it may be making" in told
    assert "A voltage drop over it under load would show it." in told
