"""The parts list is kept by the storekeeper."""

from decimal import Decimal

import pytest

from shop.actions.parts import add_part, edit_part
from shop.domain.entries import altered
from shop.domain.parts import PartDetails
from shop.domain.refusals import NotAllowed, NotFound, Refusal
from shop.models import HistoryEntry, Part
from tests.builders import (
    MORNING,
    PartFactory,
    PartLineFactory,
    StorekeeperFactory,
    TaxRateFactory,
    UserFactory,
)

pytestmark = pytest.mark.django_db


def holder(**changes: object) -> PartDetails:
    whole = PartDetails(
        number="EL-0012",
        description="Bulb holder, rear",
        price=Decimal("12.40"),
        tax_rate_id=TaxRateFactory().pk,
    )
    return altered(whole, changes)


def test_the_storekeeper_puts_a_part_on_the_list() -> None:
    part = add_part(details=holder(), acting_user=StorekeeperFactory(), at=MORNING)
    part.refresh_from_db()
    assert (part.number, part.price) == ("EL-0012", Decimal("12.4000"))
    assert HistoryEntry.objects.get().summary == (
        "EL-0012 Bulb holder, rear put on the parts list"
    )


def test_one_number_may_stand_on_the_list_once_in_each_condition() -> None:
    keeper = StorekeeperFactory()
    add_part(details=holder(), acting_user=keeper, at=MORNING)
    add_part(details=holder(condition="used"), acting_user=keeper, at=MORNING)
    with pytest.raises(Refusal) as refused:
        add_part(details=holder(number="el-0012"), acting_user=keeper, at=MORNING)
    assert (refused.value.code, refused.value.field) == ("part-number-taken", "number")
    assert Part.objects.count() == 2


def test_a_part_cannot_take_anothers_number() -> None:
    first, second = PartFactory(), PartFactory()
    with pytest.raises(Refusal) as refused:
        edit_part(
            part_id=second.pk,
            changes={"number": first.number},
            acting_user=StorekeeperFactory(),
            at=MORNING,
        )
    assert refused.value.code == "part-number-taken"


def test_a_new_price_leaves_old_lines_as_they_are() -> None:
    line = PartLineFactory(price=Decimal("0.85"))
    edit_part(
        part_id=line.part_id,
        changes={"price": Decimal("0.95")},
        acting_user=StorekeeperFactory(),
        at=MORNING,
    )
    line.refresh_from_db()
    assert line.price == Decimal("0.85")
    assert Part.objects.get().price == Decimal("0.95")


@pytest.mark.parametrize("tax_rate_id", [0, 404, 10**30])
def test_a_part_without_a_tax_rate_in_use_is_refused(tax_rate_id: int) -> None:
    with pytest.raises(NotFound) as refused:
        add_part(
            details=holder(tax_rate_id=tax_rate_id),
            acting_user=StorekeeperFactory(),
            at=MORNING,
        )
    assert refused.value.field == "tax_rate_id"


def test_a_retired_rate_is_not_taken() -> None:
    old = TaxRateFactory(is_retired=True)
    with pytest.raises(NotFound):
        edit_part(
            part_id=PartFactory().pk,
            changes={"tax_rate_id": old.pk},
            acting_user=StorekeeperFactory(),
            at=MORNING,
        )


def test_a_technician_changes_no_prices() -> None:
    with pytest.raises(NotAllowed):
        edit_part(
            part_id=PartFactory().pk,
            changes={"price": Decimal(1)},
            acting_user=UserFactory(),
            at=MORNING,
        )
