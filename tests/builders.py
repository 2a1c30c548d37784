"""Builders of real rows for tests: an invented shop, made through the tables."""

from collections.abc import Callable
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any, Generic, TypeVar

from django.db.models import Model
from factory.declarations import LazyAttribute, Sequence, SubFactory
from factory.django import DjangoModelFactory, Password

from shop.domain.bikes import EarthPolarity, SystemVoltage
from shop.domain.labour import LabourKind
from shop.domain.lifecycle import ENDED, State
from shop.domain.parts import PartCondition, PartUnit
from shop.domain.pricing import Billing
from shop.domain.roles import Role
from shop.domain.tasks import TaskState
from shop.models import (
    Bike,
    Clock,
    Customer,
    LabourLine,
    OutsideWork,
    Part,
    PartLine,
    ShopSettings,
    StripTag,
    Supplier,
    Task,
    TaxRate,
    User,
    WorkOrder,
)

MORNING = datetime(2026, 3, 2, 8, 30, tzinfo=UTC)
Row = TypeVar("Row", bound=Model)

PASSWORD = "three brass washers"


class Maker(Generic[Row]):
    """Makes rows of one table; what is not said is made up."""

    def __init__(self, builder: type[DjangoModelFactory[Row]]) -> None:
        self._builder = builder

    def __call__(self, **said: Any) -> Row:
        return self._builder.create(**said)

    def create(self, **said: Any) -> Row:
        return self(**said)

    def create_batch(self, size: int, **said: Any) -> list[Row]:
        return [self(**said) for _ in range(size)]


# factory-boy's declarations carry no types; these four give them one.
def nth(make: Callable[[int], object]) -> Any:
    return Sequence(make)  # type: ignore[no-untyped-call]  # untyped there


def built(builder: type[DjangoModelFactory[Any]]) -> Any:
    return SubFactory(builder)  # type: ignore[no-untyped-call]  # untyped there


def worked_out(make: Callable[[Any], object]) -> Any:
    return LazyAttribute(make)  # type: ignore[no-untyped-call]  # untyped there


def hashed(password: str) -> Any:
    return Password(password)  # type: ignore[no-untyped-call]  # untyped there


class _User(DjangoModelFactory[User]):
    class Meta:
        model = User
        skip_postgeneration_save = True

    username = nth(lambda n: f"person{n}")
    first_name = nth(lambda n: f"Person {n}")
    role = Role.TECHNICIAN.value
    password = hashed(PASSWORD)


class _Owner(_User):
    role = Role.OWNER.value


class _FrontDesk(_User):
    role = Role.FRONT_DESK.value


class _Storekeeper(_User):
    role = Role.STOREKEEPER.value


class _Customer(DjangoModelFactory[Customer]):
    class Meta:
        model = Customer

    name = nth(lambda n: f"Customer {n:03d}")
    address = "4 Quarry Steps\nOld Harbour"
    phone = "0555 010 200"
    email = nth(lambda n: f"customer{n}@example.org")
    created_at = MORNING


class _Bike(DjangoModelFactory[Bike]):
    class Meta:
        model = Bike

    owner = built(_Customer)
    maker = "Tarnfell"
    model = "Heron 350"
    year = 1961
    registration = nth(lambda n: f"TF {n:03d}")
    frame_number = nth(lambda n: f"H35/{n:04d}")
    engine_number = nth(lambda n: f"{n:04d} E")
    system_volts = SystemVoltage.TWELVE.value
    earth = EarthPolarity.POSITIVE.value
    created_at = MORNING


class _WorkOrder(DjangoModelFactory[WorkOrder]):
    class Meta:
        model = WorkOrder

    # Out of the way of the shop's own counter, which begins at 1001.
    number = nth(lambda n: 5001 + n)
    bike = built(_Bike)
    customer = worked_out(lambda order: order.bike.owner)
    state = State.BOOKED_IN.value
    state_since = MORNING
    complaint = "Lights go out when the engine is hot, horn still works."
    booked_in_at = MORNING
    ended_at = worked_out(lambda order: MORNING if order.state in set(ENDED) else None)


class _TaxRate(DjangoModelFactory[TaxRate]):
    class Meta:
        model = TaxRate

    label = nth(lambda n: f"Standard {n}")
    percent = Decimal(20)


class _ShopSettings(DjangoModelFactory[ShopSettings]):
    class Meta:
        model = ShopSettings
        django_get_or_create = ("id",)

    id = 1
    name = "The Lamp Room"
    address = "12 Foundry Yard\nOld Harbour"
    currency = "EUR"
    default_tax_rate = built(_TaxRate)
    hourly_rate = Decimal("54.00")


class _Part(DjangoModelFactory[Part]):
    class Meta:
        model = Part

    number = nth(lambda n: f"EL-{n:04d}")
    description = "Bullet connector, brass, 4.7 mm"
    condition = PartCondition.NEW.value
    unit = PartUnit.EACH.value
    price = Decimal("0.85")
    tax_rate = built(_TaxRate)


class _Task(DjangoModelFactory[Task]):
    class Meta:
        model = Task

    work_order = built(_WorkOrder)
    operation = nth(lambda n: f"Renew the joints of branch {n}")
    position = nth(lambda n: n + 1)
    labour_kind = LabourKind.REPAIR.value
    state = TaskState.UNDERWAY.value
    state_since = MORNING
    optimistic_hours = Decimal(1)
    likely_hours = Decimal(2)
    pessimistic_hours = Decimal(3)
    created_at = MORNING


class _Clock(DjangoModelFactory[Clock]):
    class Meta:
        model = Clock

    task = built(_Task)
    technician = built(_User)
    kind = LabourKind.REPAIR.value
    billing = Billing.BILLABLE.value
    hourly_rate = Decimal("54.00")
    started_at = MORNING


class _LabourLine(DjangoModelFactory[LabourLine]):
    class Meta:
        model = LabourLine

    work_order = built(_WorkOrder)
    technician = built(_User)
    technician_name = worked_out(lambda line: line.technician.name)
    kind = LabourKind.FAULT_FINDING.value
    description = "Traced the feed to the head lamp"
    done_on = MORNING.date()
    minutes = 50
    hourly_rate = Decimal("54.00")
    tax_label = "Standard"
    tax_percent = Decimal(20)
    created_at = MORNING


class _PartLine(DjangoModelFactory[PartLine]):
    class Meta:
        model = PartLine

    work_order = built(_WorkOrder)
    part = built(_Part)
    number = worked_out(lambda line: line.part.number)
    description = worked_out(lambda line: line.part.description)
    condition = worked_out(lambda line: line.part.condition)
    unit = worked_out(lambda line: line.part.unit)
    quantity = Decimal(2)
    price = worked_out(lambda line: line.part.price)
    tax_label = "Standard"
    tax_percent = Decimal(20)
    added_by = built(_User)
    created_at = MORNING


class _Supplier(DjangoModelFactory[Supplier]):
    class Meta:
        model = Supplier

    name = nth(lambda n: f"Oxbow Platers {n}")
    trades = ["plating"]
    lead_days = 21
    created_at = MORNING


class _StripTag(DjangoModelFactory[StripTag]):
    class Meta:
        model = StripTag

    # Out of the way of the shop's own counter, which begins at 1001.
    number = nth(lambda n: 7001 + n)
    work_order = built(_WorkOrder)
    name = "Rear wheel"
    place = "Rear, left and right spindle nuts in the bag"
    shelf = "B3"
    state_since = MORNING
    taken_off_by = built(_User)
    taken_off_at = MORNING


class _OutsideWork(DjangoModelFactory[OutsideWork]):
    class Meta:
        model = OutsideWork

    # Out of the way of the shop's own counter, which begins at 101.
    number = nth(lambda n: 9001 + n)
    work_order = built(_WorkOrder)
    supplier = built(_Supplier)
    trade = "plating"
    description = "Rims stripped and chromed"
    state_since = MORNING
    tax_label = "Standard"
    tax_percent = Decimal(20)
    made_by = built(_User)
    created_at = MORNING


UserFactory = Maker(_User)
OwnerFactory = Maker(_Owner)
FrontDeskFactory = Maker(_FrontDesk)
StorekeeperFactory = Maker(_Storekeeper)
CustomerFactory = Maker(_Customer)
BikeFactory = Maker(_Bike)
WorkOrderFactory = Maker(_WorkOrder)
TaxRateFactory = Maker(_TaxRate)
ShopSettingsFactory = Maker(_ShopSettings)
PartFactory = Maker(_Part)
TaskFactory = Maker(_Task)
ClockFactory = Maker(_Clock)
LabourLineFactory = Maker(_LabourLine)
PartLineFactory = Maker(_PartLine)
SupplierFactory = Maker(_Supplier)
StripTagFactory = Maker(_StripTag)
OutsideWorkFactory = Maker(_OutsideWork)
