"""The invented workshop's tasks, holds, advisories and final checks."""

from datetime import datetime
from decimal import Decimal

from diagnostics.demo import invented
from diagnostics.demo.shop_floor import ShopFloor
from shop.actions.advisories import (
    decline_advisory,
    make_advisory_a_task,
    note_advisory,
    tell_advisory,
)
from shop.actions.check_lists import answer_check
from shop.actions.holds import place_hold, release_hold
from shop.actions.task_templates import apply_task_template
from shop.actions.tasks import move_task, plan_task
from shop.domain.advisories import AdvisoryDetails, Urgency
from shop.domain.check_lists import Answer
from shop.domain.holds import HoldDetails, HoldReason
from shop.domain.tasks import TaskDetails, TaskEvent
from shop.models import CheckItem, Task, TaskTemplate, WorkOrder


def lay_out_restoration(floor: ShopFloor, order: WorkOrder) -> None:
    """Lay out the rebuild of a bike on the bench, its first six tasks done."""
    template = TaskTemplate.objects.by_name().get(name="Full strip and rebuild")
    tasks = apply_task_template(
        work_order_id=order.pk,
        template_id=template.pk,
        acting_user=floor.technician,
        at=floor.calendar.at(73, 8),
    )
    for days, task in zip((72, 71, 70, 68, 66, 64), tasks[:6], strict=True):
        _do(floor, task, days)
    _start(floor, tasks[6], floor.calendar.at(60, 9))
    _notice(floor, order)
    loom = tasks[10]
    hold = place_hold(
        work_order_id=order.pk,
        details=HoldDetails(
            kind=HoldReason.CUSTOMER.value,
            detail="Whether hidden blade fuses may go in",
            task_id=loom.pk,
        ),
        acting_user=floor.technician,
        at=floor.calendar.at(58, 16),
    )
    release_hold(
        hold_id=hold.pk,
        note="Yes, if they cannot be seen",
        acting_user=floor.front_desk,
        at=floor.calendar.at(56, 10),
    )
    place_hold(
        work_order_id=order.pk,
        details=HoldDetails(
            kind=HoldReason.PARTS.value,
            detail="Cloth-braided sleeve in three sizes",
            expected_on=floor.calendar.day(-6),
            task_id=loom.pk,
        ),
        acting_user=floor.technician,
        at=floor.calendar.at(56, 11),
    )


def pass_check(floor: ShopFloor, order: WorkOrder, at: datetime) -> None:
    """Find every point of the final check in order."""
    for item in CheckItem.objects.standing_on(order.pk):
        answer_check(
            item_id=item.pk, answer=Answer.RIGHT, acting_user=floor.owner, at=at
        )


def plan_small_jobs(floor: ShopFloor) -> None:
    """Plan the brake light that was booked in yesterday."""
    order = WorkOrder.objects.latest_first().filter(
        bike_id=floor.bikes[invented.BOOKED_IN]
    )[0]
    at = floor.calendar.at(1, 16, 50)
    first = plan_task(
        work_order_id=order.pk,
        details=_hours("Prove the brake light circuit", "0.25", "0.75", "2"),
        acting_user=floor.technician,
        at=at,
    )
    plan_task(
        work_order_id=order.pk,
        details=_hours("Renew the lever switch, set it", "0.5", "0.75", "1.5"),
        depends_on=[first.pk],
        acting_user=floor.technician,
        at=at,
    )


def _notice(floor: ShopFloor, order: WorkOrder) -> None:
    noticed = [
        note_advisory(
            work_order_id=order.pk,
            details=AdvisoryDetails(what=what, place=place, urgency=urgency.value),
            acting_user=floor.technician,
            at=floor.calendar.at(66, 15),
        )
        for what, place, urgency in (
            ("Two spokes cracked at the elbow", "Rear wheel", Urgency.UNSAFE),
            ("Play in the lower bush", "Steering damper", Urgency.SOON),
            ("Plating thin on the underside", "Left silencer", Urgency.WATCH),
        )
    ]
    for row in noticed[:2]:
        tell_advisory(
            advisory_id=row.pk,
            how="by phone, to the owner",
            acting_user=floor.front_desk,
            at=floor.calendar.at(65, 10),
        )
    make_advisory_a_task(
        advisory_id=noticed[0].pk,
        details=_hours("Respoke the rear wheel", "2", "3", "6"),
        acting_user=floor.technician,
        at=floor.calendar.at(64, 9),
    )
    decline_advisory(
        advisory_id=noticed[1].pk,
        reason="The owner has a new one at home",
        acting_user=floor.front_desk,
        at=floor.calendar.at(64, 10),
    )


def _do(floor: ShopFloor, task: Task, days: int) -> None:
    _start(floor, task, floor.calendar.at(days, 8, 30))
    move_task(
        task_id=task.pk,
        event=TaskEvent.FINISH,
        acting_user=floor.technician,
        at=floor.calendar.at(days, 16),
    )


def _start(floor: ShopFloor, task: Task, at: datetime) -> None:
    move_task(
        task_id=task.pk, event=TaskEvent.START, acting_user=floor.technician, at=at
    )


def _hours(operation: str, low: str, likely: str, high: str) -> TaskDetails:
    return TaskDetails(
        operation=operation,
        optimistic_hours=Decimal(low),
        likely_hours=Decimal(likely),
        pessimistic_hours=Decimal(high),
    )
