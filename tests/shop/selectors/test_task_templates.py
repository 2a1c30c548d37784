"""Common jobs are read with their steps."""

from decimal import Decimal

import pytest

from shop.actions.task_templates import add_task_template, add_template_step
from shop.domain.refusals import NotFound
from shop.domain.tasks import StepDetails
from shop.selectors.task_templates import (
    task_template_list,
    task_template_page,
    template_step,
)
from tests.builders import MORNING, OwnerFactory

pytestmark = pytest.mark.django_db


def test_a_job_is_read_with_what_comes_after_what() -> None:
    owner = OwnerFactory()
    made = add_task_template(
        name="Clutch", description="", acting_user=owner, at=MORNING
    )
    before: tuple[int, ...] = ()
    for operation in ("Cover off", "Plates in"):
        step = add_template_step(
            template_id=made.pk,
            details=StepDetails(
                operation=operation,
                optimistic_hours=Decimal(1),
                likely_hours=Decimal(2),
                pessimistic_hours=Decimal(6),
            ),
            after=before,
            acting_user=owner,
            at=MORNING,
        )
        before = (step.pk,)
    page = task_template_page(template_id=made.pk, viewer=owner.as_viewer())
    assert [row.after_operations for row in page.steps] == [(), ("Cover off",)]
    assert page.steps[0].expected_hours == Decimal("2.50")
    names = {
        row.name: row.steps for row in task_template_list(viewer=owner.as_viewer())
    }
    assert names["Clutch"] == 2


def test_what_is_not_there_is_not_found() -> None:
    viewer = OwnerFactory().as_viewer()
    with pytest.raises(NotFound):
        task_template_page(template_id=0, viewer=viewer)
    with pytest.raises(NotFound):
        template_step(step_id=0, viewer=viewer)
