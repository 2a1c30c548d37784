"""What only a blunder can have read is a slip."""

import numpy as np
import pytest

from harness.conflict.slips import are_slips, log_floor
from harness.likelihood import BLUNDER_EYE, BLUNDER_LAMP, BLUNDER_METER
from harness.predictions import log_chance
from tests.harness.conflict.cases import Given, bike, finding
from tests.harness.small_looms import HORN, LEAD_OFF, ON

AT_HORN: Given = {"rig": HORN, "probe": "horn.1"}
FUSE: Given = {"tool": "eye", "device": "main-fuse"}
HORN_SEEN: Given = {"rig": HORN, "tool": "eye", "device": "horn"}
OHMS: Given = {
    "rig": LEAD_OFF,
    "tool": "ohmmeter",
    "probe": "horn.1",
    "clip": "horn.2",
}


@pytest.mark.parametrize(
    ("given", "floor"),
    [
        ({**AT_HORN, "tool": "test-lamp", "reads": "lit"}, BLUNDER_LAMP / 3),
        ({**AT_HORN, "tool": "test-lamp", "reads": "dim"}, BLUNDER_LAMP / 3),
        ({**HORN_SEEN, "reads": "works"}, BLUNDER_EYE / 3),
        ({**HORN_SEEN, "reads": "dead"}, BLUNDER_EYE / 3),
        ({**FUSE, "reads": "intact"}, BLUNDER_EYE / 2),
        ({**FUSE, "reads": "blown"}, BLUNDER_EYE / 2),
        ({**AT_HORN, "tool": "voltmeter", "reads": 12}, BLUNDER_METER / (2.6 * 12)),
        ({**OHMS, "reads": "open"}, BLUNDER_METER / 2),
        ({**OHMS, "reads": 4.8}, BLUNDER_METER / 160),
    ],
)
def test_the_least_a_reading_can_be_worth_is_its_tool_s_blunders(
    given: Given, floor: float
) -> None:
    found = log_floor(bike(), [finding(given)])
    assert np.exp(found[0]) == pytest.approx(floor, rel=1e-6)


def test_a_clamp_s_blunders_are_spread_over_all_currents() -> None:
    clamp = finding({"rig": HORN, "tool": "ammeter", "wire": "4", "reads": 2.4})
    honest = log_chance(bike(), clamp, np.array([2.4, 0.0]))
    floor = log_floor(bike(), [clamp])[0]
    assert honest[0] > floor + 3
    assert honest[1] == pytest.approx(floor)


def test_volts_a_few_widths_off_are_no_slip_and_far_off_are_one() -> None:
    meter = finding({"rig": ON, "tool": "voltmeter", "probe": "horn.1", "reads": 12.0})
    # Its width at 12 V is 0.26 V.
    logs = log_chance(bike(), meter, np.array([12.0, 12.8, 14.0, 0.0]))[None]
    assert are_slips(bike(), [meter], logs)[0].tolist() == [False, False, True, True]


def test_no_findings_are_no_slips() -> None:
    assert are_slips(bike(), [], np.zeros((0, 3))).shape == (0, 3)
