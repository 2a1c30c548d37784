"""What was measured on the hunted bikes: sound ones, but for what a drawing shows.

A drawing knows no battery's charge and no regulator, so these readings are invented.
"""

from collections.abc import Mapping
from datetime import datetime, timedelta

from diagnostics.actions.measurements import MeasurementEntry, record_measurement
from shop.models import User

Measured = tuple[tuple[str, Mapping[str, float | str]], ...]

BEFORE_THE_HUNT: Measured = (
    ("battery-rest", {"rest_v": 12.52, "battery_c": 16, "rested_h": 14}),
    ("charging", {"running_v": 13.3, "engine_rpm": 4000, "battery_c": 18}),
    ("parasitic-draw", {"draw_ma": 0.0, "fitted": "nothing", "capacity_ah": 14}),
)
AFTER_THE_REPAIR: Measured = (
    ("voltage-drop", {"stretch": "earth-side", "drop_v": 0.06, "load_a": 4.6}),
    ("battery-rest", {"rest_v": 12.68, "battery_c": 19, "rested_h": 5}),
    ("charging", {"running_v": 14.2, "engine_rpm": 4200, "battery_c": 21}),
)
MINUTES_EACH = 2


def measure(
    measured: Measured,
    *,
    case_id: int,
    technician: User,
    at: datetime,
) -> None:
    """Take measurements one after the other, from `at` on."""
    for number, (kind, readings) in enumerate(measured):
        record_measurement(
            case_id=case_id,
            entry=MeasurementEntry(kind=kind, readings=readings),
            key=f"demo-measured-{kind}",
            acting_user=technician,
            at=at + timedelta(minutes=MINUTES_EACH * number),
        )
