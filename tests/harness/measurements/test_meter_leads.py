"""The meter's own leads."""

import math

import pytest

from harness import HarnessError
from harness.measurements.entries import Readings
from harness.measurements.meter_leads import lead_remarks, less_leads

# V11 (prac H): 0.1 to 0.5 Ω is subtracted before judging under 2 Ω.


def test_the_leads_are_taken_off() -> None:
    readings = Readings({"coil_ohm": 4.3, "lead_ohm": 0.3}, {})
    assert less_leads(readings, "coil_ohm") == pytest.approx(4.0)
    assert lead_remarks(readings, (0.5,)) == ()


def test_open_stays_open() -> None:
    readings = Readings({"coil_ohm": math.inf, "lead_ohm": 0.3}, {})
    assert less_leads(readings, "coil_ohm") == math.inf


def test_leads_that_were_not_read_are_called_to_mind_under_two_ohms() -> None:
    readings = Readings({"coil_ohm": 1.4}, {})
    assert less_leads(readings, "coil_ohm") == 1.4
    assert lead_remarks(readings, (1.4,)) != ()
    assert lead_remarks(readings, (4.0, 2.0)) == ()


def test_leads_with_more_than_the_reading_are_refused() -> None:
    readings = Readings({"coil_ohm": 0.2, "lead_ohm": 0.4}, {})
    with pytest.raises(HarnessError, match="measure the leads again"):
        less_leads(readings, "coil_ohm")
