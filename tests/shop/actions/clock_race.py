"""One technician on fifty phones at once, in a process and on a database of its own.

Run by test_clocks_race.py once Django is set up; prints what came of it as JSON.
"""

import json
import sys
from collections import Counter
from datetime import timedelta
from typing import Any

from django.db.models import Sum

from shop.actions.clocks import change_over, clock_off, clock_on
from shop.domain.clocks import ClockEntry
from shop.models import Clock, HistoryEntry, LabourLine, Task
from tests.builders import MORNING, TaskFactory, UserFactory, WorkOrderFactory
from tests.shop.actions.race import at_once

PHONES = 50
LATER = MORNING + timedelta(hours=1)
REPAIR = ClockEntry(kind="repair")


def bench(size: int) -> list[Task]:
    return [
        TaskFactory(work_order=WorkOrderFactory(state="on_the_bench"), state="planned")
        for _ in range(size)
    ]


def clocking_on() -> dict[str, Any]:
    mo, tasks = UserFactory(), bench(PHONES)

    def press(number: int) -> None:
        clock_on(task_id=tasks[number].pk, entry=REPAIR, acting_user=mo, at=MORNING)

    outcomes = at_once(press, PHONES)
    mine = Clock.objects.of_technician(mo.pk)
    # A task whose clock was refused must not have been started along with it.
    started = Task.objects.filter(
        pk__in=[task.pk for task in tasks], state="underway"
    ).count()
    told = HistoryEntry.objects.filter(verb="clock.started", actor=mo).count()
    return {
        "outcomes": outcomes,
        "running": mine.running().count(),
        "all": mine.count(),
        "tasks_started": started,
        "told": told,
    }


def clocking_off() -> dict[str, Any]:
    mo, (task,) = UserFactory(), bench(1)
    clock = clock_on(task_id=task.pk, entry=REPAIR, acting_user=mo, at=MORNING)

    def press(_: int) -> None:
        clock_off(clock_id=clock.pk, acting_user=mo, at=LATER)

    outcomes = at_once(press, PHONES)
    minutes = LabourLine.objects.filter(clock=clock).aggregate(sum=Sum("minutes"))
    return {"outcomes": outcomes, "minutes": minutes["sum"]}


def changing_over() -> dict[str, Any]:
    """Two technicians change over crosswise between the same two work orders."""
    tasks, people, outcomes = bench(2), [UserFactory(), UserFactory()], Counter[str]()
    rounds = 6
    for person, task in zip(people, tasks, strict=True):
        clock_on(task_id=task.pk, entry=REPAIR, acting_user=person, at=MORNING)
    for turn in range(rounds):
        at = MORNING + timedelta(minutes=10 * (turn + 1))

        def press(number: int, turn: int = turn, at: Any = at) -> None:
            change_over(
                task_id=tasks[(number + turn + 1) % 2].pk,
                entry=REPAIR,
                acting_user=people[number],
                at=at,
            )

        outcomes += at_once(press, 2)
    ids = [person.pk for person in people]
    lines = LabourLine.objects.filter(technician_id__in=ids)
    return {
        "outcomes": outcomes,
        "running": Clock.objects.running().filter(technician_id__in=ids).count(),
        "minutes": lines.aggregate(sum=Sum("minutes"))["sum"],
    }


def main() -> None:
    found = {
        "clocking_on": clocking_on(),
        "clocking_off": clocking_off(),
        "changing_over": changing_over(),
    }
    sys.stdout.write(json.dumps(found))
