"""A rear brake on the bench: clocked, shared, given for nothing, and one forgotten."""

from datetime import timedelta
from decimal import Decimal

from diagnostics.demo import invented
from diagnostics.demo.jobs import move
from diagnostics.demo.shop_floor import ShopFloor
from shop.actions.clocks import clock_off, clock_on
from shop.actions.labour import add_labour
from shop.actions.labour_rates import set_labour_rate
from shop.actions.shop_settings import edit_shop_settings
from shop.actions.tasks import move_task, plan_task
from shop.actions.work_orders import book_in
from shop.domain.clocks import ClockEntry
from shop.domain.labour import LabourEntry, LabourKind
from shop.domain.labour_rates import RateEntry
from shop.domain.lifecycle import Event
from shop.domain.pricing import Billing
from shop.domain.tasks import TaskDetails, TaskEvent
from shop.domain.work_orders import Intake
from shop.models import Task

_REPAIR = ClockEntry(kind=LabourKind.REPAIR)


def fill_clocks(floor: ShopFloor) -> None:
    """Write rates and rounding, and a job that two people share by the clock."""
    _rules(floor)
    order_id = _rear_brake(floor)
    strip, bearings, shoes = _tasks(floor, order_id)
    _worked(floor, strip, (2, 9, 5), (2, 10, 50))
    _worked(floor, strip, (2, 13, 0), (2, 13, 32))
    move_task(
        task_id=strip.pk,
        event=TaskEvent.FINISH,
        acting_user=floor.technician,
        at=floor.calendar.at(2, 13, 35),
    )
    _given(floor, order_id)
    clock_on(
        task_id=bearings.pk,
        entry=_REPAIR,
        acting_user=floor.owner,
        at=floor.calendar.at(1, 15, 10),
    )
    clock_on(
        task_id=shoes.pk,
        entry=_REPAIR,
        acting_user=floor.technician,
        at=floor.calendar.now - timedelta(minutes=40),
    )


def _rules(floor: ShopFloor) -> None:
    at = floor.calendar.at(119, 9)
    edit_shop_settings(
        changes={"time_rounding": "nearest", "time_step_minutes": 6},
        acting_user=floor.owner,
        at=at,
    )
    for kind, rate, technician_id in (
        (LabourKind.FAULT_FINDING, "70.00", None),
        (LabourKind.RESTORATION, "64.00", floor.technician.pk),
    ):
        entry = RateEntry(
            kind=kind, hourly_rate=Decimal(rate), technician_id=technician_id
        )
        set_labour_rate(entry=entry, acting_user=floor.owner, at=at)


def _rear_brake(floor: ShopFloor) -> int:
    order = book_in(
        bike_id=floor.bikes[invented.BOOKED_IN],
        complaint="The rear brake drags when hot and squeals when it rains.",
        acting_user=floor.front_desk,
        at=floor.calendar.at(3, 11),
        intake=Intake(
            intake_notes="Ridden in. Brake pedal has its full travel.",
            approved_amount=Decimal(420),
            approved_by_name="the owner of the bike",
            approved_how="at the counter",
            technician_id=floor.technician.pk,
        ),
    )
    move(floor, order.pk, Event.START_WORK, by=floor.technician, when=(2, 9, 0))
    return order.pk


def _tasks(floor: ShopFloor, order_id: int) -> list[Task]:
    planned: list[Task] = []
    for operation, hours in (
        ("Rear wheel out, brake stripped and measured", ("1", "1.5", "2.5")),
        ("Wheel bearings cleaned, checked and packed", ("0.5", "1", "2")),
        ("New shoes fitted, chamfered and bedded in", ("1", "2", "3.5")),
    ):
        least, likely, most = (Decimal(text) for text in hours)
        planned.append(
            plan_task(
                work_order_id=order_id,
                details=TaskDetails(
                    operation=operation,
                    optimistic_hours=least,
                    likely_hours=likely,
                    pessimistic_hours=most,
                ),
                acting_user=floor.technician,
                at=floor.calendar.at(2, 9, 2),
                depends_on=[task.pk for task in planned[:1]],
            )
        )
    return planned


def _worked(
    floor: ShopFloor,
    task: Task,
    began: tuple[int, int, int],
    ended: tuple[int, int, int],
) -> None:
    clock = clock_on(
        task_id=task.pk,
        entry=_REPAIR,
        acting_user=floor.technician,
        at=floor.calendar.at(*began),
    )
    clock_off(
        clock_id=clock.pk, acting_user=floor.technician, at=floor.calendar.at(*ended)
    )


def _given(floor: ShopFloor, order_id: int) -> None:
    add_labour(
        work_order_id=order_id,
        entry=LabourEntry(
            kind=LabourKind.CHECK,
            minutes=18,
            description="Chain adjusted while the wheel was out",
            reason="done in passing, no task for it",
            billing=Billing.GOODWILL,
            done_on=floor.calendar.day(2),
        ),
        acting_user=floor.technician,
        at=floor.calendar.at(2, 14),
    )
