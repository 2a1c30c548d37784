"""Eight colleagues at once, in a process and on a database of their own.

Run by test_moves_race.py once Django is set up; prints what came of it as JSON.
"""

import json
import sys
import threading
from collections import Counter
from collections.abc import Callable
from datetime import timedelta
from typing import Any

from django.db import connection

from shop.actions.labour import add_labour, void_labour
from shop.actions.moves import move_work_order
from shop.actions.people import edit_person
from shop.actions.work_orders import book_in
from shop.domain.labour import LabourEntry
from shop.domain.lifecycle import Event
from shop.domain.refusals import Refusal
from shop.models import HistoryEntry, LabourLine, User, WorkOrder
from tests.builders import (
    MORNING,
    BikeFactory,
    LabourLineFactory,
    OwnerFactory,
    WorkOrderFactory,
)

COLLEAGUES = 8
ROUNDS = 6
LATER = MORNING + timedelta(hours=1)


def at_once(work: Callable[[int], object], size: int = COLLEAGUES) -> Counter[str]:
    """Let so many do their work at the same moment; count what came of it."""
    outcomes: Counter[str] = Counter()
    start = threading.Barrier(size)

    def colleague(number: int) -> None:
        start.wait()
        try:
            work(number)
        except Refusal as refusal:
            outcomes[refusal.code] += 1
        except Exception as error:  # noqa: BLE001 - whatever it is, it is counted
            outcomes[f"{type(error).__name__}: {error}"] += 1
        else:
            outcomes["done"] += 1
        finally:
            connection.close()

    threads = [threading.Thread(target=colleague, args=(n,)) for n in range(size)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return outcomes


def moving(owner: User) -> dict[str, Any]:
    outcomes: Counter[str] = Counter()
    for _ in range(ROUNDS):
        order = WorkOrderFactory(state="on_the_bench")

        def finish(_: int, order_id: int = order.pk) -> None:
            move_work_order(
                work_order_id=order_id,
                event=Event.FINISH_WORK,
                acting_user=owner,
                at=LATER,
            )

        outcomes += at_once(finish)
    told = HistoryEntry.objects.filter(verb="work_order.finish_work").count()
    return {"outcomes": outcomes, "told": told}


def booking(owner: User) -> dict[str, Any]:
    bike = BikeFactory()

    def book(_: int) -> None:
        for _ in range(ROUNDS):
            book_in(bike_id=bike.pk, complaint="No spark.", acting_user=owner, at=LATER)

    outcomes = at_once(book)
    numbers = WorkOrder.objects.of_bike(bike.pk).values_list("number", flat=True)
    return {"outcomes": outcomes, "numbers": sorted(numbers)}


def voiding(owner: User) -> dict[str, Any]:
    outcomes: Counter[str] = Counter()
    for _ in range(ROUNDS):
        line = LabourLineFactory(technician=owner)

        def strike(_: int, line_id: int = line.pk) -> None:
            void_labour(line_id=line_id, reason="twice", acting_user=owner, at=LATER)

        outcomes += at_once(strike)
    return {
        "outcomes": outcomes,
        "void": LabourLine.objects.exclude(voided_at=None).count(),
    }


def closing(owner: User) -> dict[str, Any]:
    """One hands over while the others book hours: none may come in after."""
    late = 0
    errors: Counter[str] = Counter()
    for _ in range(ROUNDS):
        order = WorkOrderFactory(state="ready")

        def close_or_book(number: int, order_id: int = order.pk) -> None:
            if number == 0:
                move_work_order(
                    work_order_id=order_id,
                    event=Event.HAND_OVER,
                    acting_user=owner,
                    at=LATER,
                )
            else:
                entry = LabourEntry(
                    kind="check", minutes=5, description="Looked", reason="card"
                )
                add_labour(
                    work_order_id=order_id, entry=entry, acting_user=owner, at=LATER
                )

        errors += at_once(close_or_book)
        told = list(HistoryEntry.objects.of_work_order(order.pk).order_by("pk"))
        end = [entry.verb for entry in told].index("work_order.hand_over")
        late += len(told) - end - 1
    return {"late": late, "outcomes": errors}


def stepping_down() -> dict[str, Any]:
    """All owners take the role from the next one: somebody must be left."""
    owners = list(User.objects.filter(role="owner"))
    owners += OwnerFactory.create_batch(COLLEAGUES - len(owners))

    def take_from_next(number: int) -> None:
        other = owners[(number + 1) % COLLEAGUES]
        edit_person(
            person_id=other.pk,
            changes={"role": "technician"},
            acting_user=owners[number],
            at=LATER,
        )

    outcomes = at_once(take_from_next)
    left = User.objects.filter(role="owner", is_active=True).count()
    return {"outcomes": outcomes, "owners": left}


def main() -> None:
    owner = OwnerFactory()
    found = {
        "moving": moving(owner),
        "booking": booking(owner),
        "voiding": voiding(owner),
        "closing": closing(owner),
        "stepping_down": stepping_down(),
    }
    sys.stdout.write(json.dumps(found))
