"""The invented workshop's ordinary jobs, each brought to where it stands today."""

from decimal import Decimal

from diagnostics.demo import invented
from diagnostics.demo.shop_floor import ShopFloor
from diagnostics.demo.tasks import (
    lay_out_restoration,
    pass_check,
    plan_small_jobs,
)
from shop.actions.labour import add_labour
from shop.actions.moves import NO_PARTICULARS, move_work_order
from shop.actions.part_lines import add_part_line
from shop.actions.work_orders import book_in, edit_work_order
from shop.domain.holds import HoldReason
from shop.domain.labour import LabourEntry, LabourKind
from shop.domain.lifecycle import Event
from shop.domain.work_orders import Intake, Particulars
from shop.models import User


def fill_jobs(floor: ShopFloor) -> None:
    """Write the jobs that are no fault hunts, the oldest first."""
    _handed_over(floor)
    _restoration_that_waits(floor)
    _estimate_not_yet_approved(floor)
    _booked_in_yesterday(floor)
    plan_small_jobs(floor)


def move(
    floor: ShopFloor,
    work_order_id: int,
    event: Event,
    *,
    by: User,
    when: tuple[int, int, int],
    particulars: Particulars = NO_PARTICULARS,
) -> None:
    """Move a work order, at a time given as days ago, hour and minute."""
    move_work_order(
        work_order_id=work_order_id,
        event=event,
        acting_user=by,
        at=floor.calendar.at(*when),
        particulars=particulars,
    )


def labour(
    floor: ShopFloor,
    work_order_id: int,
    kind: LabourKind,
    minutes: int,
    description: str,
    *,
    when: tuple[int, int, int],
) -> None:
    """Book the technician's time on a work order."""
    add_labour(
        work_order_id=work_order_id,
        entry=LabourEntry(
            kind=kind,
            minutes=minutes,
            description=description,
            reason="from the job card",
            done_on=floor.calendar.day(when[0]),
        ),
        acting_user=floor.technician,
        at=floor.calendar.at(*when),
    )


def part(
    floor: ShopFloor,
    work_order_id: int,
    number: str,
    quantity: str,
    *,
    when: tuple[int, int, int],
) -> None:
    """Put a part on a work order."""
    add_part_line(
        work_order_id=work_order_id,
        part_id=floor.parts[number],
        quantity=Decimal(quantity),
        acting_user=floor.technician,
        at=floor.calendar.at(*when),
    )


def _handed_over(floor: ShopFloor) -> None:
    order = book_in(
        bike_id=floor.bikes[invented.RESTORED],
        complaint="Will not hold its charge. Please make it start again for the "
        "club's spring run.",
        acting_user=floor.front_desk,
        at=floor.calendar.at(96, 10),
        intake=Intake(
            intake_notes="Came on a trailer. Tank empty, key with it.",
            approved_amount=Decimal(250),
            approved_by_name=invented.LENNART,
            approved_how="at the counter",
        ),
    )
    move(floor, order.pk, Event.START_WORK, by=floor.technician, when=(95, 9, 0))
    part(floor, order.pk, invented.BATTERY_6V, "1", when=(95, 9, 20))
    part(floor, order.pk, invented.BOOK, "1", when=(95, 9, 25))
    labour(
        floor,
        order.pk,
        LabourKind.SERVICE,
        50,
        "Battery renewed, terminals cleaned, charging measured at the terminals",
        when=(95, 10, 15),
    )
    edit_work_order(
        work_order_id=order.pk,
        changes={
            "work_done": "New battery fitted and charged. The dynamo charges; "
            "nothing else was found."
        },
        acting_user=floor.technician,
        at=floor.calendar.at(95, 10, 20),
    )
    move(floor, order.pk, Event.FINISH_WORK, by=floor.technician, when=(95, 10, 30))
    pass_check(floor, order, floor.calendar.at(95, 13))
    move(floor, order.pk, Event.SIGN_OFF, by=floor.owner, when=(95, 14, 0))
    move(floor, order.pk, Event.HAND_OVER, by=floor.front_desk, when=(93, 16, 30))


def _restoration_that_waits(floor: ShopFloor) -> None:
    order = book_in(
        bike_id=floor.bikes[invented.RESTORED],
        complaint="Whole bike to be restored over the winter, loom included. It "
        "should look as if it had been cared for, not as if it were new.",
        acting_user=floor.front_desk,
        at=floor.calendar.at(80, 11),
        intake=Intake(
            intake_notes="Complete but for the left side panel. Ridden in.",
            promised_on=floor.calendar.day(-60),
            technician_id=floor.technician.pk,
        ),
    )
    move(floor, order.pk, Event.START_ESTIMATE, by=floor.front_desk, when=(79, 9, 0))
    move(
        floor,
        order.pk,
        Event.SEND_ESTIMATE,
        by=floor.front_desk,
        when=(77, 15, 0),
        particulars=Particulars(
            estimate_amount=Decimal("4800.00"),
            estimate_note="Rims and chrome by an outside plater, at cost.",
        ),
    )
    move(
        floor,
        order.pk,
        Event.APPROVE,
        by=floor.front_desk,
        when=(74, 10, 0),
        particulars=Particulars(
            approved_by_name=invented.LENNART, approved_how="by letter"
        ),
    )
    lay_out_restoration(floor, order)
    labour(
        floor,
        order.pk,
        LabourKind.RESTORATION,
        425,
        "Stripped to the frame, every part bagged and listed",
        when=(60, 17, 0),
    )
    labour(
        floor,
        order.pk,
        LabourKind.RESTORATION,
        260,
        "Loom unwrapped, measured and drawn; no two joints alike",
        when=(58, 16, 0),
    )
    move(
        floor,
        order.pk,
        Event.WAIT,
        by=floor.technician,
        when=(55, 12, 0),
        particulars=Particulars(
            reason="Rims are at the plater's, back in three weeks",
            hold_kind=HoldReason.OUTSIDE_WORK.value,
        ),
    )


def _estimate_not_yet_approved(floor: ShopFloor) -> None:
    order = book_in(
        bike_id=floor.bikes[invented.QUOTED],
        complaint="Bought as a heap of parts. What would it cost to get the "
        "electrics complete and safe?",
        acting_user=floor.front_desk,
        at=floor.calendar.at(9, 12),
        intake=Intake(intake_notes="Three crates. Loom cut behind the headlamp."),
    )
    move(floor, order.pk, Event.START_ESTIMATE, by=floor.technician, when=(8, 9, 0))
    move(
        floor,
        order.pk,
        Event.SEND_ESTIMATE,
        by=floor.front_desk,
        when=(6, 17, 0),
        particulars=Particulars(
            estimate_amount=Decimal("1260.00"),
            estimate_note="New main loom to the drawing; instruments not included.",
        ),
    )


def _booked_in_yesterday(floor: ShopFloor) -> None:
    book_in(
        bike_id=floor.bikes[invented.BOOKED_IN],
        complaint="The brake light comes on with the pedal but not with the lever.",
        acting_user=floor.front_desk,
        at=floor.calendar.at(1, 16, 40),
        intake=Intake(promised_on=floor.calendar.day(-5)),
    )
