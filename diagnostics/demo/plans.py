"""The invented workshop's hours, days away, and a plan asked for."""

from datetime import timedelta
from decimal import Decimal

from diagnostics.demo.shop_floor import ShopFloor
from shop.actions.absences import add_absence
from shop.actions.plans import request_plan
from shop.actions.working_hours import set_working_hours
from shop.domain.absences import AbsenceDetails


def fill_plans(floor: ShopFloor) -> None:
    """Write down who is at the bench when; the worker works the plan out."""
    at = floor.calendar.at(7, 9)
    technician = floor.technician
    set_working_hours(
        technician_id=technician.pk,
        changes={"friday": Decimal("4.5"), "saturday": Decimal(3)},
        acting_user=floor.front_desk,
        at=at,
    )
    away = floor.calendar.day(0) + timedelta(days=14)
    add_absence(
        technician_id=technician.pk,
        details=AbsenceDetails(
            first_on=away,
            last_on=away + timedelta(days=2),
            reason="Course on magnetos",
        ),
        acting_user=floor.front_desk,
        at=at,
    )
    request_plan(acting_user=floor.front_desk, at=floor.calendar.now)
