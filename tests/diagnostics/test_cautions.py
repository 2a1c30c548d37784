"""The caution stands at the step, and knows the bike's polarity.

Words after check-values Z1, Z3 to Z8, Z10 to Z13 (prac, pub S68 to S73).
"""

import pytest

from diagnostics.cautions import (
    ENGINE_RUNNING,
    FUSE,
    JUMPER,
    TEST_LAMP,
    cautions_for,
    isolate_battery,
    repair_cautions,
)


@pytest.mark.parametrize("earth", ["negative", "positive"])
def test_the_earthed_lead_comes_off_first_whichever_it_is(earth: str) -> None:
    text = isolate_battery(earth)
    assert f"the earthed lead first, on this bike the {earth} one" in text
    assert "last" in text


def test_a_resistance_test_isolates_the_battery() -> None:
    (caution,) = cautions_for(tool="ohmmeter", rig={}, device="", earth="positive")
    assert "the positive one" in caution


def test_unplugging_isolates_the_battery_too() -> None:
    told = cautions_for(
        tool="voltmeter", rig={"unplugged": ["tail"]}, device="", earth="negative"
    )
    assert told == (isolate_battery("negative"),)


def test_a_jumper_lead_is_fused_and_goes_on_with_the_battery_isolated() -> None:
    told = cautions_for(
        tool="voltmeter", rig={"jumpers": [["a.1", "b.1"]]}, device="", earth="negative"
    )
    assert told == (isolate_battery("negative"), JUMPER)
    assert "its own fuse" in JUMPER


def test_a_running_engine_is_told_first() -> None:
    told = cautions_for(
        tool="test-lamp", rig={"engine": "running"}, device="", earth="negative"
    )
    assert told == (ENGINE_RUNNING, TEST_LAMP)


def test_a_fuse_is_never_replaced_by_a_larger_one() -> None:
    assert FUSE in cautions_for(
        tool="eye", rig={}, device="main-fuse", earth="negative"
    )
    assert FUSE in repair_cautions("negative")


def test_looking_at_a_horn_needs_no_caution() -> None:
    assert cautions_for(tool="eye", rig={}, device="horn", earth="negative") == ()
