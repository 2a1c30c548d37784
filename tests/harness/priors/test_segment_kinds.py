"""Which row of the table a segment belongs to, and where it sits."""

import pytest

from harness.priors.rates import KINDS
from harness.priors.segment_kinds import (
    kind_of_segment,
    place_of_segment,
    places_of_segment,
)
from harness.segments import segments_of
from tests.harness.priors.looms import every_kind
from tests.harness.small_looms import horn_and_tail, relay_and_charger


@pytest.mark.parametrize(
    ("segment", "kind"),
    [
        ("wire:13", "cable"),
        ("wire:1", "wire"),
        ("device:horn", "load"),
        ("device:rear-lamp.tail", "lamp"),
        ("plug:tail-plug.1", "plug"),
        ("switch:key-switch.ON.30-15", "switch"),
        ("fuse:main-fuse", "fuse"),
        ("battery:battery", "battery"),
    ],
)
def test_each_segment_has_the_rates_of_its_kind(segment: str, kind: str) -> None:
    h = horn_and_tail()
    assert kind_of_segment(h, segments_of(h)[segment]) == kind


def test_a_relays_coil_goes_bad_otherwise_than_its_contacts() -> None:
    h = relay_and_charger()
    found = {
        name.partition(".")[2]: kind_of_segment(h, s)
        for name, s in segments_of(h).items()
        if s.kind == "relay"
    }
    assert found == {
        "coil": "relay-coil",
        "contact": "relay-contact",
        "break-contact": "relay-contact",
    }


def test_straps_mounts_motors_and_boxes_have_rows_of_their_own() -> None:
    h = every_kind()
    found = {kind_of_segment(h, s) for s in segments_of(h).values()}
    assert found == set(KINDS)


def test_a_device_sits_in_its_place() -> None:
    h = every_kind()
    assert place_of_segment(h, segments_of(h)["device:horn"]) == "bars"
    assert places_of_segment(h, segments_of(h)["plug:plug.1"]) == ("tail",)


def test_a_wire_between_two_places_sits_in_both_and_in_no_one() -> None:
    h = every_kind()
    assert places_of_segment(h, segments_of(h)["wire:03"]) == ("bars", "tray")
    assert place_of_segment(h, segments_of(h)["wire:03"]) is None


def test_a_wire_within_one_place_sits_there() -> None:
    h = every_kind()
    assert place_of_segment(h, segments_of(h)["wire:06"]) == "tail"


def test_where_the_drawing_does_not_say_there_is_no_place() -> None:
    h = relay_and_charger()
    assert places_of_segment(h, segments_of(h)["wire:1"]) == ()
    assert place_of_segment(h, segments_of(h)["device:head"]) is None
