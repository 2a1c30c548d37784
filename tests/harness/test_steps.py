"""What to do to make a test, and what can hurt somebody while it is made."""

from typing import Any

from harness.findings import test_from as check_test
from harness.model import Harness
from harness.steps import cautions
from harness.steps import test_steps as steps_of
from tests.harness.small_looms import (
    HORN,
    LEAD_OFF,
    ON,
    horn_and_tail,
    positive_earth,
    relay_and_charger,
)

H = horn_and_tail()
RUNNING: dict[str, object] = {"engine": "running"}


def steps(rig: dict[str, Any], h: Harness = H, **test: object) -> list[str]:
    where = test or {"tool": "voltmeter", "probe": "horn.1"}
    return steps_of(h, check_test(h, {"rig": rig} | where, where="test"))


def warned(rig: dict[str, Any], h: Harness = H, **test: object) -> str:
    where = test or {"tool": "voltmeter", "probe": "horn.1"}
    return " ".join(cautions(h, check_test(h, {"rig": rig} | where, where="test")))


def test_steps_name_switches_clip_and_probe_in_that_order() -> None:
    said = steps(HORN, tool="test-lamp", probe="horn.1")
    assert said[0] == "Set: horn button held at PRESSED, key switch to ON."
    assert said[1] == "Leave every other switch at rest."
    assert said[-2].startswith("Clip the test lamp's clip to the frame")
    assert said[-1].startswith("Hold the probe on the horn, pin 1")


def test_nothing_is_unplugged_on_a_live_loom() -> None:
    said = steps(ON | {"unplugged": ["tail-plug"]})
    off = said.index("Key off, then lift the battery lead off the battery, negative "
                     "post (earthed side).")  # fmt: skip
    apart = said.index("Pull the tail plug apart (tail).")
    on = said.index("Put the battery lead back on.")
    key = said.index("Set: key switch to ON.")
    assert off < apart < on < key
    assert said[-1] == (
        "Afterwards, key off: lift the battery lead again, put back the tail plug, "
        "and the battery lead last of all."
    )


def test_a_wire_pulled_off_a_pin_is_kept_clear_of_metal() -> None:
    said = steps({"unplugged": ["horn.1"]}, tool="voltmeter", probe="horn-button.2")
    assert (
        "Pull wire 4 (orange with black tracer, OGBK) off the horn, pin 1, and keep "
        "what hangs free clear of metal."
    ) in said


def test_a_fuse_is_pulled_with_everything_off_and_put_back() -> None:
    said = steps({"removed": ["main-fuse"]})
    assert said[:2] == [
        "Key off and everything at rest.",
        "Take out the main fuse (tray).",
    ]
    assert said[-1] == "Afterwards, key off: put back the main fuse."


def test_the_battery_lead_stays_off_for_ohms() -> None:
    said = steps(
        LEAD_OFF | {"unplugged": ["tail-plug"]},
        tool="ohmmeter",
        probe="tail-plug.1b",
        clip="rear-lamp.T",
    )
    assert "Put the battery lead back on." not in said
    assert said[-1].startswith("Afterwards, key off: put back the tail plug")
    assert said[-1].endswith("the battery lead last of all.")


def test_a_jumper_lead_has_its_own_fuse_and_comes_off_first() -> None:
    rig: dict[str, object] = {"jumpers": [["horn.2", "frame.tail"]]}
    said = steps(rig)
    assert any(step.startswith("Fit a jumper lead with its own fuse") for step in said)
    assert said[-1].startswith(
        "Afterwards, key off: lift the battery lead again, take the jumper lead off"
    )
    # Check value Z6: never a larger fuse; practice: the fuse guards the wire.
    assert "carries its own fuse, no larger" in warned(rig)
    assert "Never fit a larger fuse" in warned(rig)


def test_a_clamp_is_set_to_nothing_and_turned_the_right_way() -> None:
    said = steps(HORN, tool="ammeter", wire="4")
    assert said[-3].endswith("and to nothing with its jaws empty.")
    assert said[-2].startswith("Close it round wire 4 (orange with black tracer, OGBK)")
    assert "near the horn button, pin 2" in said[-2]
    assert said[-1] == "Turn it so that its arrow points towards the horn, pin 1."


def test_an_engine_that_runs_is_started_after_the_switches_are_set() -> None:
    loom = relay_and_charger()
    said = steps({"switch": "ON"} | RUNNING, loom, tool="voltmeter", probe="fuse.1")
    assert said.index("Set: switch to ON.") < said.index(
        "Start the engine and let it run."
    )
    # Check values Z7, Z10, Z11, Z13.
    words = warned(RUNNING, loom, tool="voltmeter", probe="fuse.1")
    for word in ("outdoors", "high voltage", "hot parts", "Never take the battery off"):
        assert word in words


def test_the_lead_to_lift_depends_on_polarity() -> None:
    # Check value Z4: the lead that goes to the frame.
    for loom, pole in ((H, "negative"), (positive_earth(H), "positive")):
        for rig in (LEAD_OFF, {"unplugged": ["tail-plug"]}):
            said = warned(rig, loom, tool="voltmeter", probe="horn.1")
            assert f"the {pole} one" in said


def test_a_fuse_comes_with_its_caution() -> None:
    # Check value Z6.
    assert "larger fuse" in warned({}, tool="eye", device="main-fuse")
    assert "larger fuse" in warned({"removed": ["main-fuse"]})
    assert "larger fuse" not in warned({"removed": ["horn"]})


def test_a_lamp_that_is_taken_out_is_left_to_cool() -> None:
    # Check value Z11.
    assert "let it cool" in warned({"removed": ["rear-lamp"]})


def test_a_test_lamp_stays_off_electronics() -> None:
    # Check value Z12.
    assert "electronic modules" in warned(ON, tool="test-lamp", probe="horn.1")


def test_no_caution_stands_twice() -> None:
    rig: dict[str, Any] = {
        "unplugged": ["tail-plug"],
        "removed": ["main-fuse", "rear-lamp"],
        "jumpers": [["horn.2", "frame.tail"]],
        "battery-lead": "off",
    }
    given = {"tool": "ohmmeter", "probe": "horn.1", "rig": rig}
    said = cautions(H, check_test(H, given, where="test"))
    assert len(set(said)) == len(said)
