"""What each segment has to carry in ordinary use."""

import pytest

from harness.explain.service import Service, service_of, service_words
from harness.operating import solve
from tests.harness.conflict.cases import bike
from tests.harness.small_looms import HORN


def test_a_wire_to_one_consumer_carries_that_consumer_s_current() -> None:
    # 30 W at 12 V are 4.8 ohm.
    service = service_of(bike())["wire:4"]
    amps = solve(bike(), HORN).amps["wire:4"]
    assert service.consumer == "horn"
    assert service.amps == pytest.approx(abs(amps), rel=1e-6)
    assert service_words(bike(), service) == "the 2.6 A of the horn"


def test_a_wire_that_several_hang_on_carries_them_together() -> None:
    service = service_of(bike())["wire:1"]
    assert service.consumer == ""
    assert service.amps > service_of(bike())["wire:4"].amps
    assert (
        service_words(bike(), service)
        == f"the {service.amps:.2g} A of all that hangs on it"
    )


def test_what_carries_nothing_in_any_ordinary_rig_is_left_out() -> None:
    found = service_of(bike())
    assert all(service.amps > 0 for service in found.values())
    # Parked, the tail lamp's current comes through another contact.
    assert "switch:key-switch.ON.30-57" in found


def test_a_filament_is_named_with_its_lamp() -> None:
    tail = Service(0.43, "rear-lamp.tail")
    assert service_words(bike(), tail) == "the 0.43 A of the rear lamp, tail filament"
