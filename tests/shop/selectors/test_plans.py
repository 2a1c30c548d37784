"""The promise of a work order as it is read."""

import pytest

from shop.domain.refusals import NotFound
from shop.selectors.plans import plan_panel
from tests.builders import FrontDeskFactory, StorekeeperFactory, UserFactory
from tests.shop.plan_room import MONDAY, rewire, task_of, worked_out

pytestmark = pytest.mark.django_db


def test_a_task_that_may_come_to_decide_is_named_with_its_odds() -> None:
    order = rewire()
    strip, make, _ = order.tasks.order_by("position")
    task_of(
        order,
        "Recondition the dynamo",
        ("10", "13", "30"),
        needs=(strip,),
        technician=UserFactory(),
    )
    worked_out()
    panel = plan_panel(
        work_order_id=order.pk, viewer=FrontDeskFactory().as_viewer(), at=MONDAY
    )
    assert "Make the new loom" in panel.path_words
    rows = {row.operation: row for row in panel.tasks}
    assert rows["Take the old loom out"].critical_percent == 100
    dynamo = rows["Recondition the dynamo"]
    assert not dynamo.is_on_path
    told = f"Recondition the dynamo (in {dynamo.critical_percent} of 100 cases)"
    assert (told in panel.rivals_words) is (dynamo.critical_percent >= 20)
    assert order.technician is not None
    assert rows[make.operation].technician_name == order.technician.name


def test_a_task_taken_off_since_is_left_out_and_nothing_breaks() -> None:
    order = rewire()
    worked_out()
    last = order.tasks.order_by("-position")[0]
    last.needs_rows.all().delete()
    last.delete()
    panel = plan_panel(
        work_order_id=order.pk, viewer=StorekeeperFactory().as_viewer(), at=MONDAY
    )
    assert len(panel.tasks) == 2
    assert panel.path_words == "“Take the old loom out”, then “Make the new loom”"
    assert not panel.standing.may_request


def test_an_unknown_work_order_is_told_of() -> None:
    with pytest.raises(NotFound):
        plan_panel(
            work_order_id=40_400, viewer=FrontDeskFactory().as_viewer(), at=MONDAY
        )
