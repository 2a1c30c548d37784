"""A shop with tasks to plan, for the tests of plans."""

from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

from shop.actions import plan_building, plans
from shop.models import Plan, PlanLine, Task, TaskDependency, User, WorkOrder
from tests.builders import MORNING, FrontDeskFactory, UserFactory, WorkOrderFactory

# A Monday; the tests' shop is in the settings' own time zone.
MONDAY = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)
FIRST = date(2026, 3, 2)


def task_of(
    order: WorkOrder,
    operation: str,
    hours: tuple[str, str, str] = ("4", "6", "14"),
    *,
    needs: tuple[Task, ...] = (),
    **said: Any,
) -> Task:
    """Make a planned task with three guesses of its hours."""
    least, likely, most = (Decimal(number) for number in hours)
    task = Task.objects.create(
        work_order=order,
        operation=operation,
        position=order.tasks.count() + 1,
        state=said.pop("state", "planned"),
        state_since=MORNING,
        optimistic_hours=least,
        likely_hours=likely,
        pessimistic_hours=most,
        created_at=MORNING,
        **said,
    )
    for wanted in needs:
        TaskDependency.objects.create(task=task, needs=wanted)
    return task


def rewire(**said: Any) -> WorkOrder:
    """Make a work order with three tasks in a row."""
    technician = said.pop("technician", None) or UserFactory()
    order = WorkOrderFactory(state="on_the_bench", technician=technician, **said)
    strip = task_of(order, "Take the old loom out", ("2", "3", "5"))
    make = task_of(order, "Make the new loom", ("8", "12", "24"), needs=(strip,))
    task_of(order, "Fit and test the loom", ("4", "6", "14"), needs=(make,))
    return order


def worked_out(at: datetime = MONDAY, *, asked_by: User | None = None) -> Plan:
    """Ask for a plan and have it worked out."""
    asking = asked_by or FrontDeskFactory()
    plan = plans.request_plan(acting_user=asking, at=at)
    assert plan_building.work_out_next(acting_user=None, at=at, clock=lambda: at)
    plan.refresh_from_db()
    return plan


def line_of(order: WorkOrder) -> PlanLine:
    """Return what the last plan says of the work order."""
    return PlanLine.objects.filter(work_order=order).order_by("-plan_id")[0]
