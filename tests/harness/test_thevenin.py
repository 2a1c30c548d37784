"""What a meter sees between two points, by hand: stretches in the air and joined.

The looms are those of `faulty_looms.py`.
"""

from functools import cache

import numpy as np
import pytest

from harness.faults import Fault
from harness.model import Harness
from harness.rig import rig_from
from tests.harness.compared import (
    fresh_table,
    from_table,
)
from tests.harness.faulty_looms import (
    EMF_V,
    LAMP_OHM,
    SOURCE_OHM,
    TOUCH_OHM,
    parallel,
    shut,
    switched_both_ends,
)
from tests.harness.readout import read
from tests.harness.small_looms import (
    LEAD_OFF,
)


@cache
def loads() -> Harness:
    return switched_both_ends()


ENDS = ("return-a.1", "return-b.1")
# From an open return switch through one load's stretch to the middle of wire a1 or b1.
STRETCH = 0.01 + 0.005 + 0.01 + 0.01 + 0.005 + 0.005
FEEDS_CROSSED = Fault("wire:a1", "crossed", other="wire:b1")
RETURNS_CROSSED = Fault("wire:a3", "crossed", other="wire:b3")


def test_nothing_joins_two_stretches_that_are_switched_off_at_both_ends() -> None:
    h = loads()
    table = fresh_table(h, rig_from(h, LEAD_OFF), [()])
    assert np.isinf(from_table(table, "ohmmeter", ENDS)[0])
    for probe in ("load-a.1", "load-b.2"):
        assert read(h, {}, "voltmeter", ("battery.pos", probe)) == pytest.approx(
            0.0, abs=1e-4
        )
        assert read(h, {}, "test-lamp", ("battery.pos", probe)) == pytest.approx(
            0.0, abs=1e-6
        )


def test_a_chafe_joins_two_floating_stretches_into_one() -> None:
    h = loads()
    ohms = read(h, LEAD_OFF, "ohmmeter", ENDS, FEEDS_CROSSED)
    assert ohms == pytest.approx(STRETCH + 10 + TOUCH_OHM + STRETCH + 20, abs=1e-6)
    # Still floating together, nothing drives a current.
    assert read(h, {}, "voltmeter", ENDS, FEEDS_CROSSED) == pytest.approx(0, abs=1e-6)
    assert read(
        h, {}, "voltmeter", ("battery.pos", "load-b.1"), FEEDS_CROSSED
    ) == pytest.approx(0.0, abs=1e-4)


def test_a_second_chafe_between_the_same_two_makes_a_ring() -> None:
    h = loads()
    # From each end to the middle of its wire 3; there straight across, or round by
    # both loads and the other chafe.
    to_middle = 0.01 + 0.005 + 0.005
    round_it = 2 * (0.005 + 0.01 + 0.005 + 0.005) + 10 + 20 + TOUCH_OHM
    both = FEEDS_CROSSED, RETURNS_CROSSED
    assert read(h, LEAD_OFF, "ohmmeter", ENDS, *both) == pytest.approx(
        2 * to_middle + parallel(TOUCH_OHM, round_it), abs=1e-6
    )


def test_a_chafe_joins_a_floating_stretch_to_the_battery() -> None:
    h = loads()
    fed = shut("feed-a")
    assert read(h, fed, "voltmeter", ("load-b.2", "frame.a")) == pytest.approx(
        0.0, abs=1e-4
    )
    assert read(
        h, fed, "voltmeter", ("load-b.2", "frame.a"), FEEDS_CROSSED
    ) == pytest.approx(EMF_V, abs=1e-4)
    assert read(
        h, fed, "test-lamp", ("load-b.2", "frame.a"), FEEDS_CROSSED
    ) == pytest.approx(EMF_V * LAMP_OHM / (LAMP_OHM + 20), abs=0.05)


def test_one_load_s_feed_and_the_other_s_return_make_a_circuit_by_a_chafe() -> None:
    h = loads()
    rig = shut("feed-a", "return-b")
    way = (
        (SOURCE_OHM + 0.01 + 0.01 + 0.005)  # battery to the middle of a1
        + TOUCH_OHM
        + (0.005 + 0.005 + 0.01 + 20 + 0.01 + 0.005 + 0.01 + 0.01 + 0.01)
    )
    assert read(h, rig, "ammeter", ("b2",), FEEDS_CROSSED) == pytest.approx(EMF_V / way)
    assert read(h, rig, "ammeter", ("a2",), FEEDS_CROSSED) == pytest.approx(0, abs=1e-9)


def test_cutting_the_only_way_leaves_the_stretch_behind_it_in_the_air() -> None:
    h = loads()
    rig = shut("feed-a", "return-a")
    cut = Fault("plug:plug.1", "open")
    assert read(h, rig, "voltmeter", ("load-a.1", "frame.a"), cut) == pytest.approx(
        0.0, abs=1e-6
    )
    both = cut, Fault("plug:plug.3", "open")
    # A test lamp to the battery ties it down, and so does a meter: no current flows.
    for tool in ("test-lamp", "voltmeter"):
        assert read(h, rig, tool, ("battery.pos", "load-a.1"), *both) == pytest.approx(
            0.0, abs=1e-4
        )
    assert read(h, rig, "test-lamp", ("battery.pos", "load-a.1"), cut) == pytest.approx(
        EMF_V * LAMP_OHM / (LAMP_OHM + 10.0), abs=0.05
    )


def test_a_stretch_cut_out_and_chafed_through_lives_on_its_neighbour_s_feed() -> None:
    h = loads()
    rig = shut("feed-b", "return-a")
    cut = Fault("wire:a0", "open")
    common = SOURCE_OHM + 0.01 + 0.01 + 0.005 + TOUCH_OHM
    way = common + 0.005 + 0.005 + 0.01 + 10 + 0.01 + 0.005 + 0.01 + 0.01 + 0.01
    assert read(h, rig, "ammeter", ("a2",), FEEDS_CROSSED, cut) == pytest.approx(
        EMF_V / way
    )
