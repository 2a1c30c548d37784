"""How many volts a stretch may use up, against the tables of the trade."""

import pytest

from harness.measurements import Standing
from harness.measurements.drop_limits import STRETCHES, drop_limit
from tests.harness.measurements.bikes import SIX, SYSTEMS, TWELVE, TWENTY_FOUR

LIMITS = [
    # V1 (prac H).
    ("earth-side", 0.1, Standing.COMMON_PRACTICE),
    ("cable", 0.2, Standing.COMMON_PRACTICE),
    ("switch", 0.3, Standing.COMMON_PRACTICE),
    ("starter-cable", 0.5, Standing.COMMON_PRACTICE),
    # V2 (prac M); a small joint 0 V.
    ("heavy-joint", 0.1, Standing.COMMON_PRACTICE),
    ("heavy-cable", 0.2, Standing.COMMON_PRACTICE),
    ("solenoid", 0.3, Standing.COMMON_PRACTICE),
    # V3 (prac M).
    ("starter-feed", 0.6, Standing.COMMON_PRACTICE),
    ("starter-return", 0.3, Standing.COMMON_PRACTICE),
    ("charging-feed", 0.5, Standing.COMMON_PRACTICE),
    ("charging-return", 0.2, Standing.COMMON_PRACTICE),
    # V4 (mem M).
    ("small-lamps", 0.6, Standing.FROM_MEMORY),
    ("large-lamps", 0.9, Standing.FROM_MEMORY),
    ("headlamp", 0.6, Standing.FROM_MEMORY),
    ("charge-lead", 0.4, Standing.FROM_MEMORY),
    ("starter-lead", 0.5, Standing.FROM_MEMORY),
    ("solenoid-control", 1.5, Standing.FROM_MEMORY),
]


@pytest.mark.parametrize(("name", "most_v", "standing"), LIMITS)
def test_limits_are_those_of_the_trade_and_halved_for_six_volts(
    name: str, most_v: float, standing: Standing
) -> None:
    twelve = drop_limit(name, TWELVE)
    assert twelve.high == most_v
    assert twelve.source.standing is standing
    # V5 (prac M): halve every limit.
    six = drop_limit(name, SIX)
    assert six.high == pytest.approx(most_v / 2)
    assert six.source.standing is Standing.COMMON_PRACTICE
    assert drop_limit(name, TWENTY_FOUR).high == pytest.approx(2 * most_v)
    assert drop_limit(name, TWENTY_FOUR).source.standing is Standing.WORKED_OUT


def test_a_small_joint_may_lose_nothing_that_a_meter_can_tell() -> None:
    # V2 (prac M): 0 V.
    for system in SYSTEMS:
        assert drop_limit("small-joint", system).high == 0.01


def test_every_stretch_of_the_list_is_checked_here() -> None:
    checked = {name for name, _, _ in LIMITS} | {"small-joint"}
    assert {stretch.name for stretch in STRETCHES} == checked
