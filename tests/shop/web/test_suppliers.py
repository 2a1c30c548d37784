"""Pages about suppliers."""

import pytest

from shop.domain.roles import Role
from shop.models import Supplier
from tests.builders import MORNING, OutsideWorkFactory, ShopSettingsFactory
from tests.shop.web.pages import as_role, error_at, url, words

pytestmark = pytest.mark.django_db


def test_a_supplier_is_written_down_and_shows_what_it_has_of_ours() -> None:
    ShopSettingsFactory.create()
    desk = as_role(Role.FRONT_DESK)
    assert "No suppliers yet" in words(desk.get(url("suppliers")))
    entered = {
        "name": "Oxbow Platers",
        "trades": ["plating", "paint"],
        "lead_days": "21",
        "markup_percent": "12,5",
    }
    made = desk.post(url("supplier_add"), entered, follow=True)
    assert "Plating and polishing, Paint" in words(made)
    supplier = Supplier.objects.get()
    OutsideWorkFactory.create(supplier=supplier)
    assert "Rims stripped" in words(desk.get(url("supplier", supplier.pk)))
    assert "Oxbow Platers" in words(desk.get(url("suppliers"), {"q": "oxbow"}))


@pytest.mark.parametrize(
    ("field", "value"),
    [("name", ""), ("email", "x"), ("lead_days", "-1"), ("markup_percent", "900")],
)
def test_what_cannot_be_stands_at_its_field(field: str, value: str) -> None:
    entered = {"name": "Oxbow", "markup_percent": "0", field: value}
    answer = as_role(Role.OWNER).post(url("supplier_add"), entered)
    assert answer.status_code == 422
    assert error_at(answer, field)


def test_a_retired_supplier_leaves_the_list() -> None:
    supplier = Supplier.objects.create(name="Fold Foundry", created_at=MORNING)
    owner = as_role(Role.OWNER)
    owner.post(
        url("supplier_edit", supplier.pk),
        {
            "name": "Fold Foundry",
            "markup_percent": "0",
            "is_retired": "on",
            "initial-name": "Fold Foundry",
            "initial-markup_percent": "0",
        },
        follow=True,
    )
    assert "Fold Foundry" not in words(owner.get(url("suppliers")))
