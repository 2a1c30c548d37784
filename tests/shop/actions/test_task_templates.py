"""A common job is written once and laid out as tasks."""

from decimal import Decimal
from importlib import import_module

import pytest

from shop.actions.task_templates import (
    add_task_template,
    add_template_step,
    apply_task_template,
    edit_task_template,
    edit_template_step,
    remove_template_step,
    retire_task_template,
)
from shop.domain.refusals import IllegalMove, NotAllowed, Refusal
from shop.domain.tasks import StepDetails
from shop.models import HistoryEntry, Task, TaskTemplate, TemplateStep, User
from tests.builders import MORNING, OwnerFactory, UserFactory, WorkOrderFactory

pytestmark = pytest.mark.django_db
START = import_module("shop.migrations.0013_common_jobs")


@pytest.fixture
def owner() -> User:
    return OwnerFactory()


def template(owner: User, name: str = "Clutch") -> TaskTemplate:
    return add_task_template(name=name, description="", acting_user=owner, at=MORNING)


def step(
    made: TaskTemplate, owner: User, operation: str, after: tuple[int, ...] = ()
) -> TemplateStep:
    return add_template_step(
        template_id=made.pk,
        details=StepDetails(
            operation=operation,
            optimistic_hours=Decimal(1),
            likely_hours=Decimal(2),
            pessimistic_hours=Decimal(4),
            caution="Spring under load",
        ),
        after=after,
        acting_user=owner,
        at=MORNING,
    )


def test_a_template_is_laid_out_with_order_hours_and_cautions(owner: User) -> None:
    clutch = template(owner)
    off = step(clutch, owner, "Cover off")
    step(clutch, owner, "Plates in", after=(off.pk,))
    order = WorkOrderFactory(state="on_the_bench")
    tasks = apply_task_template(
        work_order_id=order.pk,
        template_id=clutch.pk,
        acting_user=UserFactory(),
        at=MORNING,
    )
    assert [task.operation for task in tasks] == ["Cover off", "Plates in"]
    assert list(tasks[1].depends_on.all()) == [tasks[0]]
    assert tasks[1].caution == "Spring under load"
    entry = HistoryEntry.objects.of_work_order(order.pk).get()
    assert entry.summary == "2 tasks laid out: Clutch"


def test_what_was_laid_out_stays_when_the_template_changes(owner: User) -> None:
    clutch = template(owner)
    off = step(clutch, owner, "Cover off")
    order = WorkOrderFactory(state="on_the_bench")
    for _ in range(2):
        apply_task_template(
            work_order_id=order.pk, template_id=clutch.pk, acting_user=owner, at=MORNING
        )
    edit_template_step(
        step_id=off.pk,
        changes={"operation": "Side cover off"},
        acting_user=owner,
        at=MORNING,
    )
    remove_template_step(step_id=off.pk, acting_user=owner, at=MORNING)
    found = Task.objects.of_work_order(order.pk).values_list("operation", "position")
    assert list(found) == [("Cover off", 1), ("Cover off", 2)]


def test_steps_in_a_circle_are_refused(owner: User) -> None:
    clutch = template(owner)
    first = step(clutch, owner, "Cover off")
    second = step(clutch, owner, "Plates in", after=(first.pk,))
    with pytest.raises(Refusal, match="circle"):
        edit_template_step(
            step_id=first.pk,
            changes={"after": [second.pk]},
            acting_user=owner,
            at=MORNING,
        )


def test_a_retired_or_empty_template_is_not_laid_out(owner: User) -> None:
    clutch, order = template(owner), WorkOrderFactory(state="on_the_bench")

    def lay_out() -> None:
        apply_task_template(
            work_order_id=order.pk, template_id=clutch.pk, acting_user=owner, at=MORNING
        )

    with pytest.raises(Refusal, match="no steps"):
        lay_out()
    step(clutch, owner, "Cover off")
    retire_task_template(template_id=clutch.pk, acting_user=owner, at=MORNING)
    with pytest.raises(IllegalMove, match="retired"):
        lay_out()


def test_two_templates_do_not_share_a_name(owner: User) -> None:
    clutch = template(owner)
    other = template(owner, "Gearbox")
    with pytest.raises(Refusal) as refused:
        edit_task_template(
            template_id=other.pk,
            name="clutch",
            description="",
            acting_user=owner,
            at=MORNING,
        )
    assert refused.value.field == "name"
    assert clutch.name == "Clutch"


def test_templates_are_the_owners_to_write(owner: User) -> None:
    with pytest.raises(NotAllowed):
        template(UserFactory())


def test_the_jobs_that_a_shop_starts_with_hold_together() -> None:
    for _, _, steps in START.JOBS:
        for number, (_, low, likely, high, _, after, _) in enumerate(steps, start=1):
            assert Decimal(low) <= Decimal(likely) <= Decimal(high)
            assert all(before < number for before in after)
    assert len(START.JOBS) == 6
    assert len({text for text, _ in START.POINTS}) == len(START.POINTS)


def test_work_that_can_hurt_somebody_carries_its_caution() -> None:
    cautions = {
        operation: caution
        for _, _, steps in START.JOBS
        for operation, *_, caution in steps
    }
    assert (
        "lead that goes to the frame first"
        in cautions["Isolate the battery, old loom out in one piece"]
    )
    assert "Petrol vapour" in cautions["Drain fuel and fluids"]
    assert "Never trust a jack" in cautions["Bike up and held, wheels out"]
    assert "carbon monoxide" in cautions["First start and settings"]
    assert "larger fuse" in cautions["Repair"]
