"""What an invented bike shows is what its hidden fault makes it show."""

import pytest

from diagnostics.convert import FindingEntry
from diagnostics.demo import invented
from diagnostics.demo.meter import meter_of

HUNTABLE = [name for name, bike in invented.BIKES.items() if bike.drawing]


@pytest.mark.parametrize("bike", HUNTABLE)
def test_a_rider_would_notice_the_hidden_fault(bike: str) -> None:
    said = {eye.reads for eye in meter_of(bike, mended=False).complaint()}
    assert said & {"weak", "dead"}


@pytest.mark.parametrize("bike", HUNTABLE)
def test_the_mended_bike_has_nothing_to_complain_of(bike: str) -> None:
    assert {eye.reads for eye in meter_of(bike, mended=True).complaint()} == {"works"}


def test_an_open_headlamp_wire_leaves_the_lamp_dark_behind_it_and_lit_before() -> None:
    meter = meter_of(invented.HUNTED, mended=False)

    def lamp(probe: str) -> str:
        rig = {"key-switch": "ON", "light-switch": "HEAD"}
        entry = FindingEntry(
            tool="test-lamp", reads="", rig=rig, probe=probe, clip="frame.battery"
        )
        return meter.read(entry).reads

    assert (lamp("light-fuse.2"), lamp("feed-plug.3a")) == ("lit", "dark")
