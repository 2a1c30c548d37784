"""The list of kinds."""

import pytest

import harness
from harness import HarnessError, measurements
from harness.measurements.registry import KINDS, kind_named, kinds_for
from tests.harness.measurements.bikes import SIX, TWENTY_FOUR


def test_the_list_covers_what_a_bench_measures() -> None:
    assert [kind.name for kind in KINDS] == [
        "battery-rest",
        "battery-gravity",
        "battery-load",
        "cranking",
        "charging",
        "voltage-drop",
        "parasitic-draw",
        "stator-ohms",
        "stator-volts",
        "coil-primary",
    ]


def test_a_kind_without_limits_for_a_system_is_not_offered_there() -> None:
    assert kinds_for(SIX) == KINDS
    assert [kind.name for kind in KINDS if kind not in kinds_for(TWENTY_FOUR)] == [
        "coil-primary"
    ]


def test_a_kind_is_found_by_its_name_or_refused() -> None:
    assert all(kind_named(kind.name) is kind for kind in KINDS)
    with pytest.raises(HarnessError, match="no measurement is called 'horn'"):
        kind_named("horn")


def test_the_front_door_leads_here() -> None:
    assert harness.measurements is measurements
    assert measurements.KINDS is KINDS
