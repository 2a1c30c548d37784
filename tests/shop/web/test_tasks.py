"""Tasks, holds, advisories and the final check on the pages of a ticket."""

import pytest
from django.test import Client

from shop.domain.roles import Role
from shop.models import Advisory, CheckItem, Hold, Task, TaskTemplate, WorkOrder
from tests.builders import TaskFactory, WorkOrderFactory
from tests.shop.web.pages import (
    as_role,
    error_at,
    html,
    no_query_while_rendering,
    queries_of,
    url,
    words,
)

pytestmark = pytest.mark.django_db

HOURS = {
    "optimistic_hours": "1",
    "likely_hours": "2,5",
    "pessimistic_hours": "4",
    "labour_kind": "repair",
}


@pytest.fixture
def bench() -> Client:
    return as_role(Role.TECHNICIAN)


@pytest.fixture
def order() -> WorkOrder:
    return WorkOrderFactory(state="on_the_bench")


def test_a_task_is_planned_after_another_and_started(
    bench: Client, order: WorkOrder
) -> None:
    first = TaskFactory(work_order=order, operation="Strip", state="planned")
    answer = bench.post(
        url("task_add", order.pk),
        {**HOURS, "operation": "Build", "depends_on": [first.pk]},
    )
    assert answer.status_code == 302
    page = words(bench.get(url("work_order", order.pk)))
    assert "Build" in page
    assert "After: Strip" in page
    bench.post(url("task_move", first.pk, "start"), {"seen_state": "planned"})
    first.refresh_from_db()
    assert first.state == "underway"


def test_an_illegal_move_of_a_task_says_why(bench: Client, order: WorkOrder) -> None:
    first = TaskFactory(work_order=order, operation="Strip", state="planned")
    build = TaskFactory(work_order=order, state="planned")
    build.depends_on.add(first)
    answer = bench.post(url("task_move", build.pk, "start"), {"seen_state": "planned"})
    assert answer.status_code == 422
    assert "First comes: Strip" in words(answer)


def test_hours_out_of_order_are_told_at_their_field(
    bench: Client, order: WorkOrder
) -> None:
    answer = bench.post(
        url("task_add", order.pk),
        {**HOURS, "operation": "Lace the wheel", "pessimistic_hours": "2"},
    )
    assert error_at(answer, "pessimistic_hours")
    assert "Lace the wheel" in html(answer)
    assert not Task.objects.exists()


def test_the_second_of_two_tabs_is_told(bench: Client, order: WorkOrder) -> None:
    task = TaskFactory(work_order=order, state="planned")
    target = url("task_move", task.pk, "start")
    assert bench.post(target, {"seen_state": "planned"}).status_code == 302
    late = bench.post(
        url("task_move", task.pk, "drop"), {"seen_state": "planned", "reason": "no"}
    )
    assert late.status_code == 422
    assert "Somebody else moved" in words(late)


def test_a_task_goes_earlier_in_its_list(bench: Client, order: WorkOrder) -> None:
    tasks = [TaskFactory(work_order=order, position=n) for n in (1, 2)]
    bench.post(url("task_place", tasks[1].pk), {"position": "1"})
    assert list(Task.objects.of_work_order(order.pk)) == tasks[::-1]
    bench.post(url("task_place", tasks[1].pk), {"position": "nonsense"})
    assert list(Task.objects.of_work_order(order.pk)) == tasks[::-1]


def test_a_job_is_laid_out_from_a_template(bench: Client, order: WorkOrder) -> None:
    template = TaskTemplate.objects.create(name="Clutch")
    template.steps.create(
        position=1,
        operation="Cover off",
        optimistic_hours=1,
        likely_hours=2,
        pessimistic_hours=3,
    )
    bench.post(url("task_template_apply", order.pk), {"template_id": template.pk})
    assert Task.objects.of_work_order(order.pk)[0].operation == "Cover off"


def test_holds_are_placed_and_released(bench: Client, order: WorkOrder) -> None:
    bench.post(url("hold_add", order.pk), {"kind": "parts", "detail": "spokes"})
    assert "Waiting: spokes" in words(bench.get(url("work_order", order.pk)))
    hold = Hold.objects.get()
    bench.post(url("hold_release", hold.pk), {"note": "came"})
    page = words(bench.get(url("work_order", order.pk)))
    assert "Nothing holds the bike any more" in page


def test_what_was_noticed_is_told_and_declined(bench: Client, order: WorkOrder) -> None:
    bench.post(
        url("advisory_add", order.pk),
        {"what": "Cracked spoke", "place": "Rear wheel", "urgency": "unsafe"},
    )
    advisory = Advisory.objects.get()
    assert "customer not told yet" in words(bench.get(url("work_order", order.pk)))
    refused = bench.post(url("advisory_decline", advisory.pk), {"reason": "later"})
    assert "Tell the customer first" in words(refused)
    bench.post(url("advisory_tell", advisory.pk), {"how": "by phone"})
    bench.post(
        url("advisory_task", advisory.pk), {**HOURS, "operation": "Respoke the wheel"}
    )
    advisory.refresh_from_db()
    assert advisory.task == Task.objects.get()


def test_the_final_check_is_ticked_point_by_point(
    bench: Client, order: WorkOrder
) -> None:
    bench.post(
        url("work_order_move", order.pk, "finish_work"), {"seen_state": "on_the_bench"}
    )
    items = list(CheckItem.objects.standing_on(order.pk))
    refused = bench.post(
        url("work_order_move", order.pk, "sign_off"), {"seen_state": "final_check"}
    )
    assert f"{len(items)} points of {len(items)}" in words(refused)
    answer = bench.post(url("check_item_answer", items[0].pk), {"answer": "not_right"})
    assert error_at(answer, "note")
    bench.post(
        url("check_item_answer", items[0].pk),
        {"answer": "right", "seen_answer": "open"},
    )
    page = words(bench.get(url("work_order", order.pk)))
    assert f"1 of {len(items)} passed" in page


def test_the_owner_edits_jobs_and_the_final_check() -> None:
    owner = as_role(Role.OWNER)
    owner.post(url("task_templates"), {"name": "Clutch", "description": "Plates"})
    clutch = TaskTemplate.objects.get(name="Clutch")
    owner.post(url("task_template", clutch.pk), {**HOURS, "operation": "Cover off"})
    step = clutch.steps.get()
    assert "Cover off" in words(owner.get(url("task_template", clutch.pk)))
    owner.post(url("template_step_remove", step.pk))
    assert not clutch.steps.exists()
    owner.post(url("check_points"), {"text": "Mirrors tight", "caution": ""})
    assert "Mirrors tight" in words(owner.get(url("check_points")))


def test_the_ticket_takes_no_more_queries_for_more_tasks(
    bench: Client, order: WorkOrder, monkeypatch: pytest.MonkeyPatch
) -> None:
    TaskFactory(work_order=order, state="planned")
    few = queries_of(bench, url("work_order", order.pk))
    for _ in range(12):
        TaskFactory(work_order=order, state="planned")
    assert queries_of(bench, url("work_order", order.pk)) == few
    with no_query_while_rendering(monkeypatch):
        bench.get(url("work_order", order.pk))
