"""What the forms refuse, the database refuses too."""

from collections.abc import Callable
from decimal import Decimal

import pytest
from django.db import IntegrityError, models, transaction
from django.db.models import ProtectedError

from shop.models import ShopSettings
from tests.builders import (
    BikeFactory,
    CustomerFactory,
    LabourLineFactory,
    PartFactory,
    PartLineFactory,
    TaxRateFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("make", "wrong"),
    [
        (CustomerFactory, {"name": ""}),
        (BikeFactory, {"maker": ""}),
        (BikeFactory, {"year": 1700}),
        (BikeFactory, {"system_volts": 24}),
        (BikeFactory, {"earth": "none"}),
        (UserFactory, {"role": "wizard"}),
        (UserFactory, {"hourly_rate": Decimal(-1)}),
        (WorkOrderFactory, {"state": "lost"}),
        (WorkOrderFactory, {"complaint": ""}),
        (WorkOrderFactory, {"number": 0}),
        (WorkOrderFactory, {"state": "closed", "ended_at": None}),
        (WorkOrderFactory, {"approved_amount": Decimal(-1)}),
        (TaxRateFactory, {"percent": Decimal(101)}),
        (TaxRateFactory, {"percent": Decimal(-1)}),
        (PartFactory, {"price": Decimal(-1)}),
        (PartFactory, {"condition": "mint"}),
        (PartFactory, {"unit": "dozen"}),
        (PartFactory, {"number": ""}),
        (PartLineFactory, {"quantity": Decimal(0)}),
        (PartLineFactory, {"price": Decimal(-1)}),
        (LabourLineFactory, {"minutes": 0}),
        (LabourLineFactory, {"minutes": 1441}),
        (LabourLineFactory, {"kind": "polishing"}),
        (LabourLineFactory, {"hourly_rate": Decimal(-1)}),
    ],
)
def test_a_row_that_breaks_a_rule_is_not_written(
    make: Callable[..., models.Model], wrong: dict[str, object]
) -> None:
    make()
    with pytest.raises(IntegrityError), transaction.atomic():
        make(**wrong)


def test_a_number_is_given_to_one_work_order() -> None:
    WorkOrderFactory(number=1500)
    with pytest.raises(IntegrityError), transaction.atomic():
        WorkOrderFactory(number=1500)


def test_there_is_one_row_of_settings() -> None:
    ShopSettings.objects.create(pk=1)
    with pytest.raises(IntegrityError), transaction.atomic():
        ShopSettings.objects.create(pk=2)


def test_nobody_is_deleted_who_is_named_on_a_paper() -> None:
    order = WorkOrderFactory(technician=UserFactory())
    line = PartLineFactory(work_order=order)
    for row in (order.customer, order.bike, order.technician, line.part):
        assert row is not None
        with pytest.raises(ProtectedError):
            row.delete()
