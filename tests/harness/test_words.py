"""Plain words for what a technician sees and does."""

from harness.faults import Fault
from harness.findings import test_from as check_test
from harness.rig import rig_from
from harness.words import (
    cautions,
    fault_words,
    rig_words,
    segment_words,
    terminal_words,
)
from harness.words import (
    test_steps as steps_of,
)
from tests.harness.small_looms import (
    HORN,
    LEAD_OFF,
    horn_and_tail,
    positive_earth,
)

H = horn_and_tail()


def test_a_wire_is_named_with_its_colour_and_both_ends() -> None:
    assert segment_words(H, "wire:2") == (
        "wire 2 (red with white tracer, RDWH) from main fuse, pin 2 to key switch, "
        "pin 30"
    )


def test_the_battery_says_which_side_a_post_is() -> None:
    assert "earthed side" in terminal_words(H, "battery.neg")
    assert "earthed side" in terminal_words(positive_earth(H), "battery.pos")


def test_a_momentary_switch_is_held() -> None:
    assert rig_words(H, rig_from(H, HORN)) == (
        "horn button held at PRESSED, key switch to ON"
    )
    assert rig_words(H, rig_from(H, {})) == "everything at rest"


def test_a_bad_contact_says_how_bad() -> None:
    words = fault_words(H, Fault("wire:2", "resistive", 3.0))
    assert words.endswith("makes bad contact (about 3 ohm)")
    assert fault_words(H, None) == "nothing is wrong"


def test_the_lead_to_lift_depends_on_polarity() -> None:
    asked = {"tool": "ohmmeter", "probe": "horn.1", "clip": "horn.2", "rig": LEAD_OFF}
    for loom, pole in ((H, "negative"), (positive_earth(H), "positive")):
        said = " ".join(cautions(loom, check_test(loom, asked, where="test")))
        assert f"the {pole} one" in said


def test_steps_name_switches_clip_and_probe_in_that_order() -> None:
    asked = {"tool": "test-lamp", "probe": "horn.1", "rig": HORN}
    steps = steps_of(H, check_test(H, asked, where="test"))
    assert steps[0].startswith("Set: ")
    assert "Clip" in steps[-2]
    assert "horn, pin 1" in steps[-1]


def test_a_fuse_comes_with_its_caution() -> None:
    asked = {"tool": "eye", "device": "main-fuse"}
    said = cautions(H, check_test(H, asked, where="test"))
    assert any("larger fuse" in caution for caution in said)
