"""Ten invented years of a busy shop, written in bulk; one seed gives one decade.

Every work order has the same sorts of rows, so that a page about one takes as many
queries in the first week as after ten years.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from random import Random
from typing import Any

from django.db import connection
from django.db.models import Model

from diagnostics.models import Case, Finding, HarnessFile
from shop.domain.lifecycle import State
from shop.domain.roles import Role
from shop.models import (
    Bike,
    Customer,
    HistoryEntry,
    LabourLine,
    OdometerReading,
    Ownership,
    Part,
    PartLine,
    StripTag,
    Supplier,
    Task,
    User,
    WorkOrder,
)
from tests.builders import ShopSettingsFactory, TaxRateFactory, UserFactory
from tests.diagnostics.builders import a_library_file

FIRST_DAY = datetime(2016, 11, 28, 8, tzinfo=UTC)
DAYS = 3650
LABOUR_AN_ORDER = 15
TAGS_AN_ORDER = 10
PARTS_AN_ORDER = 5
TASKS_AN_ORDER = 3
FINDINGS_A_CASE = 25
ORDERS_A_CASE = 2
OPEN_ORDERS = 60
BATCH = 2000

Row = Mapping[str, Any]

_MAKERS = ("Tarnfell", "Brackenhythe", "Oldmere", "Corrigane", "Veldhorn")
_MODELS = ("Heron 350", "Dotterel 650", "Whimbrel 500", "Sandpiper 250", "Lapwing 175")
_FIRST = ("Ada", "Ines", "Rowan", "Bertram", "Ottilie", "Lennart", "Juniper", "Cid")
_LAST = ("Fenn", "Roke", "Osei", "Marsh", "Voss", "Calloway", "Lund", "Harrow")
_COMPLAINTS = (
    "Lights go out when the engine is hot, horn still works.",
    "Will not hold its charge after the winter.",
    "Whole bike to be restored, loom included.",
    "Blows the main fuse as soon as the brake is touched.",
)
_WORK = (
    "Traced the feed to the head lamp",
    "Stripped the wheels and laced new rims",
    "Loom unwrapped, measured and drawn",
    "Carburettors cleaned and jetted",
)
_PIECES = ("Head lamp shell", "Dynamo", "Front brake plate", "Fork yoke", "Side panel")


@dataclass(kw_only=True)
class Decade:
    """The shop so far: grown by some work orders at a time."""

    random: Random
    orders: int = 0
    people: list[User] = field(default_factory=list)
    bikes: list[Bike] = field(default_factory=list)
    parts: list[Part] = field(default_factory=list)
    drawing: HarnessFile | None = None

    @property
    def owner(self) -> User:
        """Who may see everything."""
        return self.people[0]

    @property
    def technicians(self) -> list[User]:
        """Who stands at the bench."""
        return self.people[1:]


def open_shop(*, seed: int) -> Decade:
    """Return the shop on its first day."""
    decade = Decade(random=Random(seed))
    rate = TaxRateFactory()
    ShopSettingsFactory(default_tax_rate=rate)
    decade.people = [UserFactory(role=Role.OWNER.value)]
    decade.people += [UserFactory(first_name=name) for name in _FIRST[:6]]
    decade.drawing = a_library_file()
    decade.parts = Part.objects.bulk_create(
        Part(
            number=f"EL-{n:05d}",
            description=f"Part {n} of brass",
            price=Decimal("0.85"),
            tax_rate=rate,
        )
        for n in range(800)
    )
    Supplier.objects.bulk_create(
        Supplier(name=f"Plater {n}", created_at=FIRST_DAY) for n in range(20)
    )
    return decade


def grow(decade: Decade, *, orders: int, of: int) -> None:
    """Add work orders with all that belongs to them, spread over the decade."""
    _bikes(decade, count=max(orders // 2, 2))
    first = decade.orders
    rows = [_order(decade, first + n, of) for n in range(orders)]
    made = WorkOrder.objects.bulk_create(rows, BATCH)
    decade.orders += orders
    tasks = Task.objects.bulk_create(
        (_task(decade, order, n) for order in made for n in range(TASKS_AN_ORDER)),
        BATCH,
    )
    task_of = dict(zip((task.work_order_id for task in tasks), tasks, strict=True))
    _put(
        LabourLine,
        (
            _labour(decade, order, task_of[order.pk])
            for order in made
            for _ in range(LABOUR_AN_ORDER)
        ),
    )
    _put(
        PartLine,
        (_part(decade, order) for order in made for _ in range(PARTS_AN_ORDER)),
    )
    _put(StripTag, _tags(decade, made))
    OdometerReading.objects.bulk_create(
        (_reading(decade, order) for order in made), BATCH
    )
    _cases(decade, made[::ORDERS_A_CASE])
    _put(HistoryEntry, _history(decade, made))


def _bikes(decade: Decade, *, count: int) -> None:
    pick = decade.random.choice
    start = len(decade.bikes)
    customers = Customer.objects.bulk_create(
        Customer(
            name=f"{pick(_FIRST)} {pick(_LAST)} {start + n}",
            phone=f"0555 {start + n:05d}",
            email=f"customer{start + n}@example.org",
            created_at=FIRST_DAY,
        )
        for n in range(count)
    )
    bikes = Bike.objects.bulk_create(
        Bike(
            owner=customer,
            maker=pick(_MAKERS),
            model=pick(_MODELS),
            year=1950 + n % 30,
            registration=f"TF {start + n:05d}",
            frame_number=f"H35/{start + n:06d}",
            engine_number=f"{start + n:06d} E",
            created_at=FIRST_DAY,
        )
        for n, customer in enumerate(customers)
    )
    Ownership.objects.bulk_create(
        Ownership(bike=bike, customer_id=bike.owner_id, created_at=FIRST_DAY)
        for bike in bikes
    )
    decade.bikes += bikes


def _order(decade: Decade, n: int, of: int) -> WorkOrder:
    bike = decade.bikes[n % len(decade.bikes)]
    booked = FIRST_DAY + timedelta(days=DAYS * n / of)
    is_open = n >= of - OPEN_ORDERS or n < TASKS_AN_ORDER
    ended = None if is_open else booked + timedelta(days=60)
    return WorkOrder(
        number=1001 + n,
        bike=bike,
        customer_id=bike.owner_id,
        technician=decade.random.choice(decade.technicians),
        state=State.ON_THE_BENCH.value if is_open else State.CLOSED.value,
        state_since=ended or booked,
        complaint=decade.random.choice(_COMPLAINTS),
        booked_in_at=booked,
        ended_at=ended,
    )


def _task(decade: Decade, order: WorkOrder, n: int) -> Task:
    return Task(
        work_order=order,
        operation=decade.random.choice(_WORK),
        position=n + 1,
        technician_id=order.technician_id,
        state="planned" if order.ended_at is None else "done",
        state_since=order.state_since,
        optimistic_hours=Decimal(2),
        likely_hours=Decimal(4),
        pessimistic_hours=Decimal(9),
        created_at=order.booked_in_at,
    )


def _labour(decade: Decade, order: WorkOrder, task: Task) -> Row:
    technician = decade.random.choice(decade.technicians)
    return {
        "work_order_id": order.pk,
        "task_id": task.pk,
        "technician_id": technician.pk,
        "technician_name": technician.first_name,
        "kind": "restoration",
        "description": decade.random.choice(_WORK),
        "done_on": order.booked_in_at.date(),
        "minutes": decade.random.randrange(5, 300),
        "hourly_rate": 54,
        "tax_label": "Standard",
        "tax_percent": 20,
        "created_at": order.booked_in_at,
        "billing": "billable",
        "entry_reason": "At the bench without a clock",
        "void_reason": "",
    }


def _part(decade: Decade, order: WorkOrder) -> Row:
    part = decade.random.choice(decade.parts)
    return {
        "work_order_id": order.pk,
        "part_id": part.pk,
        "number": part.number,
        "description": part.description,
        "condition": "new",
        "unit": "each",
        "quantity": 2,
        "price": 0.75,
        "tax_label": "Standard",
        "tax_percent": 20,
        "added_by_id": decade.owner.pk,
        "created_at": order.booked_in_at,
        "void_reason": "",
    }


def _tags(decade: Decade, orders: list[WorkOrder]) -> Iterator[Row]:
    for order in orders:
        first = 1001 + (order.number - 1001) * TAGS_AN_ORDER
        for n in range(TAGS_AN_ORDER):
            yield {
                "number": first + n,
                "work_order_id": order.pk,
                "name": decade.random.choice(_PIECES),
                "place": "",
                "pieces": 1,
                "condition": "good",
                "condition_note": "",
                "shelf": f"{n % 8}-{order.number % 40}",
                "fate": "refit",
                "consent_by_name": "",
                "consent_how": "",
                "state": "on_shelf" if order.ended_at is None else "on_bike",
                "state_since": order.state_since,
                "taken_off_by_id": order.technician_id,
                "taken_off_at": order.booked_in_at,
            }


def _reading(decade: Decade, order: WorkOrder) -> OdometerReading:
    return OdometerReading(
        bike_id=order.bike_id,
        work_order=order,
        distance=Decimal(20_000 + order.number * 7),
        unit="miles",
        read_on=order.booked_in_at.date(),
        read_by=decade.owner,
        read_by_name=decade.owner.name,
        created_at=order.booked_in_at,
    )


def _cases(decade: Decade, orders: list[WorkOrder]) -> None:
    cases = Case.objects.bulk_create(
        (
            Case(
                work_order=order,
                harness_file=decade.drawing,
                title="Horn dead",
                state="open" if order.ended_at is None else "proven",
                step=FINDINGS_A_CASE,
                findings_taken=FINDINGS_A_CASE,
                opened_by=decade.owner,
                opened_at=order.booked_in_at,
            )
            for order in orders
        ),
        BATCH,
    )
    _put(
        Finding,
        (
            {
                "case_id": case.pk,
                "sequence": n + 1,
                "step": n + 1,
                "repairs_before": 0,
                "key": f"tap-{n}",
                "rig": '{"key-switch": "ON"}',
                "tool": "eye",
                "probe": "",
                "clip": "",
                "device": "horn",
                "wire": "",
                "moving": False,
                "reads": "dead",
                "origin": "complaint",
                "note": "",
                "taken_by_id": decade.owner.pk,
                "taken_at": case.opened_at,
            }
            for case in cases
            for n in range(FINDINGS_A_CASE)
        ),
    )


_ACTS = (
    *(["work_order.booked_in", "work_order.start_work", "odometer_reading.taken"]),
    *(["labour.added"] * LABOUR_AN_ORDER),
    *(["part_line.added"] * PARTS_AN_ORDER),
    *(["strip_tag.taken_off"] * TAGS_AN_ORDER),
)


def _history(decade: Decade, orders: list[WorkOrder]) -> Iterator[Row]:
    for n, order in enumerate(orders):
        acts = list(_ACTS)
        if n % ORDERS_A_CASE == 0:
            acts += ["finding.taken"] * FINDINGS_A_CASE
        for number, verb in enumerate(acts):
            yield {
                "at": order.booked_in_at + timedelta(minutes=number),
                "actor_id": decade.owner.pk,
                "actor_name": decade.owner.first_name,
                "verb": verb,
                "subject_kind": verb.partition(".")[0],
                "subject_id": order.pk,
                "work_order_id": order.pk,
                "summary": f"{verb} on WO-{order.number}",
                "reason": "",
                "old_state": "",
                "new_state": "",
                "changes": "{}",
            }


def _put(model: type[Model], rows: Iterable[Row]) -> None:
    """Write many rows of columns without making objects of them."""
    adapt = connection.ops.adapt_datetimefield_value
    found = list(rows)
    plain = [
        [adapt(v) if isinstance(v, datetime) else v for v in row.values()]
        for row in found
    ]
    columns = ", ".join(found[0])
    places = ", ".join(["%s"] * len(found[0]))
    head = ("INSERT INTO", model._meta.db_table, "(", columns, ")")
    sql = " ".join((*head, "VALUES (", places, ")"))
    with connection.cursor() as cursor:
        cursor.executemany(sql, plain)
