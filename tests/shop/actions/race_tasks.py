"""Two tabs at once on tasks, holds and points, in a process and database of its own.

Run by test_tasks_race.py once Django is set up; prints what came of it as JSON.
"""

import json
import sys
from collections import Counter
from typing import Any

from shop.actions.check_lists import answer_check
from shop.actions.holds import release_hold
from shop.actions.tasks import edit_task, move_task
from shop.domain.check_lists import Answer
from shop.domain.tasks import TaskEvent, TaskState, find_cycle
from shop.models import (
    CheckItem,
    CheckList,
    HistoryEntry,
    Hold,
    Task,
    TaskDependency,
    User,
)
from tests.builders import MORNING, OwnerFactory, TaskFactory, WorkOrderFactory
from tests.shop.actions.race import LATER, ROUNDS, at_once


def starting(owner: User) -> dict[str, Any]:
    """All start one task that they saw planned: one does."""
    outcomes: Counter[str] = Counter()
    for _ in range(ROUNDS):
        task = TaskFactory(
            work_order=WorkOrderFactory(state="on_the_bench"), state="planned"
        )

        def start(_: int, task_id: int = task.pk) -> None:
            move_task(
                task_id=task_id,
                event=TaskEvent.START,
                seen_state=TaskState.PLANNED,
                acting_user=owner,
                at=LATER,
            )

        outcomes += at_once(start)
    told = HistoryEntry.objects.filter(verb="task.start").count()
    return {"outcomes": outcomes, "told": told}


def releasing(owner: User) -> dict[str, Any]:
    """All release one hold: one does."""
    outcomes: Counter[str] = Counter()
    for _ in range(ROUNDS):
        hold = Hold.objects.create(
            work_order=WorkOrderFactory(state="waiting"),
            kind="parts",
            detail="spokes",
            since=MORNING,
            placed_by=owner,
        )

        def release(_: int, hold_id: int = hold.pk) -> None:
            release_hold(hold_id=hold_id, acting_user=owner, at=LATER)

        outcomes += at_once(release)
    return {"outcomes": outcomes}


def ticking(owner: User) -> dict[str, Any]:
    """All answer one point that they saw open: one does."""
    outcomes: Counter[str] = Counter()
    for _ in range(ROUNDS):
        made = CheckList.objects.create(
            work_order=WorkOrderFactory(state="final_check"), number=1, made_at=MORNING
        )
        item = CheckItem.objects.create(check_list=made, position=1, text="Horn")

        def tick(_: int, item_id: int = item.pk) -> None:
            answer_check(
                item_id=item_id,
                answer=Answer.RIGHT,
                seen_answer=Answer.OPEN,
                acting_user=owner,
                at=LATER,
            )

        outcomes += at_once(tick)
    return {"outcomes": outcomes}


def circling(owner: User) -> dict[str, Any]:
    """Everybody lets their task wait for the next one: no circle comes of it."""
    order = WorkOrderFactory(state="on_the_bench")
    tasks = [TaskFactory(work_order=order, state="planned") for _ in range(8)]

    def wait_for_next(number: int) -> None:
        edit_task(
            task_id=tasks[number].pk,
            changes={"depends_on": [tasks[(number + 1) % 8].pk]},
            acting_user=owner,
            at=LATER,
        )

    outcomes = at_once(wait_for_next)
    needs: dict[int, list[int]] = {task.pk: [] for task in Task.objects.all()}
    for row in TaskDependency.objects.of_work_order(order.pk):
        needs[row.task_id].append(row.needs_id)
    return {"outcomes": outcomes, "circle": find_cycle(needs)}


def main() -> None:
    owner = OwnerFactory()
    found = {
        "starting": starting(owner),
        "releasing": releasing(owner),
        "ticking": ticking(owner),
        "circling": circling(owner),
    }
    sys.stdout.write(json.dumps(found))
