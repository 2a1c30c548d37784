from decimal import Decimal

import pytest
from django.test import Client

from shop.domain.parts import PartUnit
from shop.domain.roles import Role
from shop.models import PartLine
from tests.builders import (
    PartFactory,
    PartLineFactory,
    ShopSettingsFactory,
    WorkOrderFactory,
)
from tests.shop.web.pages import as_role, error_at, queries_of, url, words

pytestmark = pytest.mark.django_db


@pytest.fixture
def store() -> Client:
    return as_role(Role.STOREKEEPER)


def test_an_empty_parts_list_says_what_to_do(store: Client) -> None:
    page = words(store.get(url("part_line_add", WorkOrderFactory.create().pk)))
    assert "The parts list is empty." in page
    assert "Put a part on the list" in page


def test_a_part_is_found_by_word_and_put_on_the_ticket(store: Client) -> None:
    ShopSettingsFactory.create()
    cable = PartFactory.create(
        number="CAB-1", description="Cable, thin wall", unit=PartUnit.METRE
    )
    PartFactory.create(number="LMP-9", description="Lamp")
    order = WorkOrderFactory.create()
    address = url("part_line_add", order.pk) + "?q=cable"
    page = words(store.get(address))
    assert "CAB-1" in page
    assert "LMP-9" not in page
    answer = store.post(
        address, {"part_id": str(cable.pk), "quantity": "2,5"}, follow=True
    )
    assert "is on the ticket." in words(answer)
    assert PartLine.objects.get().quantity == Decimal("2.5")


@pytest.mark.parametrize("quantity", ["", "0", "-1", "x", "1.5", "1e99", "NaN"])
def test_a_quantity_that_is_none_stands_at_its_field(
    store: Client, quantity: str
) -> None:
    part = PartFactory.create()
    answer = store.post(
        url("part_line_add", WorkOrderFactory.create().pk),
        {"part_id": str(part.pk), "quantity": quantity},
    )
    assert answer.status_code == 422
    assert error_at(answer, "quantity")
    assert not PartLine.objects.exists()


def test_no_part_chosen_stands_at_its_field(store: Client) -> None:
    PartFactory.create()
    answer = store.post(
        url("part_line_add", WorkOrderFactory.create().pk), {"quantity": "1"}
    )
    assert answer.status_code == 422
    assert error_at(answer, "part_id") == "Choose one."


def test_a_retired_part_is_not_offered(store: Client) -> None:
    PartFactory.create(number="OLD-1", is_retired=True)
    page = words(store.get(url("part_line_add", WorkOrderFactory.create().pk)))
    assert "OLD-1" not in page


def test_a_part_is_struck_out_with_a_reason(store: Client) -> None:
    line = PartLineFactory.create()
    answer = store.post(
        url("part_line_void", line.pk), {"reason": "Went back to the bin"}, follow=True
    )
    line.refresh_from_db()
    assert line.void_reason == "Went back to the bin"
    assert "Void: Went back to the bin" in words(answer)


def test_a_long_parts_list_takes_no_more_queries(store: Client) -> None:
    address = url("part_line_add", WorkOrderFactory.create().pk)
    PartFactory.create_batch(2)
    few = queries_of(store, address)
    PartFactory.create_batch(30)
    assert queries_of(store, address) == few
    assert "The first 20 of 32; search to narrow them." in words(store.get(address))
