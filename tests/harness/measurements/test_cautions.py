"""Cautions that stand at the measurement (check-values Z1 to Z13)."""

import pytest

from harness.measurements import KINDS
from harness.measurements.cautions import Caution, caution_words
from tests.harness.measurements.bikes import SIX, TWELVE


def words_of(name: str) -> str:
    kind = next(kind for kind in KINDS if kind.name == name)
    return " ".join(kind.cautions(TWELVE))


def test_every_caution_has_words_for_either_polarity() -> None:
    for caution in Caution:
        for earth in ("negative", "positive"):
            assert len(caution_words(caution, earth=earth)) > 40


def test_every_measurement_has_a_caution() -> None:
    assert all(kind.cautions(SIX) for kind in KINDS)


@pytest.mark.parametrize("name", ["battery-rest", "battery-gravity", "battery-load"])
def test_gas_and_acid_are_named_wherever_a_battery_is_measured(name: str) -> None:
    # Z1, Z2 (pub S68, S69).
    assert "hydrogen" in words_of(name)
    assert "acid" in words_of(name)


@pytest.mark.parametrize("name", ["charging", "stator-volts"])
def test_a_running_engine_wants_air_and_hands_kept_off(name: str) -> None:
    # Z7, Z13 (prac), Z10 (pub S73).
    for word in ("outdoors", "10 to 30 kV", "never take the battery off"):
        assert word in words_of(name)


def test_plug_leads_are_earthed_before_cranking() -> None:
    # Z7 (prac): do not crank with a plug lead open.
    assert "Earth every plug lead" in words_of("cranking")
    assert "every plug lead earthed before cranking" in words_of("voltage-drop")


@pytest.mark.parametrize("name", ["stator-ohms", "coil-primary"])
def test_ohms_are_measured_with_the_battery_isolated_earthed_lead_first(
    name: str,
) -> None:
    # Z4, Z5 (prac): the lead that goes to the frame, by polarity.
    kind = next(kind for kind in KINDS if kind.name == name)
    assert "negative one" in " ".join(kind.cautions(TWELVE))
    assert "positive one" in " ".join(kind.cautions(SIX))
