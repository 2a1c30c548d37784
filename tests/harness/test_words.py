"""Plain words for what a technician sees and does."""

from collections.abc import Mapping

from harness.faults import single_faults
from harness.findings import finding_from
from harness.rig import rig_from
from harness.segments import Fault
from harness.words import (
    as_json_test,
    fault_words,
    finding_words,
    reading_words,
    rig_words,
    segment_words,
    terminal_words,
)
from tests.harness.small_looms import HORN, horn_and_tail, positive_earth

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


def test_each_new_way_to_be_bad_has_its_words() -> None:
    chafed = fault_words(H, Fault("wire:3", "crossed", other="wire:8"))
    assert chafed.endswith("is chafed through to wire 8 (orange, OG)")
    swapped = Fault("plug:tail-plug.1", "crossed", other="plug:tail-plug.2")
    assert fault_words(H, swapped) == (
        "tail plug, cavity 1 is swapped over with cavity 2 of the same plug"
    )
    stuck = Fault("switch:horn-button.PRESSED.1-2", "stuck")
    assert fault_words(H, stuck) == (
        "horn button, contact 1-2 in position PRESSED is stuck closed"
    )
    assert fault_words(H, Fault("device:horn", "shorted")) == "horn is shorted inside"
    parted = fault_words(H, Fault("wire:5", "open", moved=True))
    assert parted.endswith("opens when the loom is moved")


def test_every_fault_of_a_loom_has_words_of_its_own() -> None:
    said = [fault_words(H, fault) for fault in single_faults(H)]
    assert len(set(said)) == len(said) - 1, "but for the two ways a battery is weak"


def test_what_is_apart_taken_out_or_bridged_is_named_as_a_person_would() -> None:
    rig = {
        "unplugged": ["tail-plug", "horn.1", "frame.horn", "key-switch.15"],
        "removed": ["main-fuse"],
        "jumpers": [["horn.2", "frame.tail"]],
    }
    assert rig_words(H, rig_from(H, rig)) == (
        "wire 5 (black, BK) pulled off frame (bare metal, horn), "
        "wire 4 (orange with black tracer, OGBK) pulled off horn, pin 1, "
        "all wires pulled off key switch, pin 15, tail plug pulled apart, "
        "main fuse taken out, "
        "a fused jumper from frame (bare metal, tail) to horn, pin 2"
    )


def test_a_clamp_goes_round_a_wire() -> None:
    given = {"tool": "ammeter", "wire": "4", "rig": HORN, "reads": 2.4}
    finding = finding_from(H, given, id_="f1")
    assert finding_words(H, finding) == (
        "clamp meter round wire 4 (orange with black tracer, OGBK) from horn button, "
        "pin 2 to horn, pin 1, horn button held at PRESSED, key switch to ON"
    )
    assert as_json_test(finding.test) == {"tool": "ammeter", "wire": "4", "rig": HORN}


def test_a_finding_says_that_the_loom_was_moved() -> None:
    given = {"tool": "eye", "device": "horn", "reads": "dead", "moving": True}
    said = finding_words(H, finding_from(H, given, id_="f1"))
    assert said == "horn by eye, everything at rest, while the loom was moved"


def test_a_number_is_told_with_its_unit_and_a_word_as_it_is() -> None:
    volts = {"tool": "voltmeter", "probe": "horn.1", "rig": HORN, "reads": "12,10"}
    ohms = {"tool": "ohmmeter", "probe": "horn.1", "rig": {"battery-lead": "off"}}
    clamp = {"tool": "ammeter", "wire": "4", "reads": -2.4}
    said: list[Mapping[str, object]] = [volts, clamp]
    said += [ohms | {"reads": 4.9}, ohms | {"reads": "open"}]
    words = [reading_words(finding_from(H, given, id_="f1")) for given in said]
    assert words == ["12.1 V", "-2.4 A", "4.9 ohm", "open"]
