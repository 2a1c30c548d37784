from decimal import Decimal

import pytest
from django.test import Client

from shop.domain.parts import PartCondition
from shop.domain.roles import Role
from shop.models import Part
from tests.builders import PartFactory, ShopSettingsFactory, TaxRateFactory
from tests.shop.web.pages import (
    as_role,
    error_at,
    no_query_while_rendering,
    queries_of,
    url,
    words,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def store() -> Client:
    return as_role(Role.STOREKEEPER)


def given(**changed: str) -> dict[str, str]:
    entered = {
        "number": "EL-7",
        "description": "Bullet connector",
        "condition": "new",
        "unit": "each",
        "price": "0,85",
        "tax_rate_id": str(TaxRateFactory.create().pk),
    }
    return {**entered, **changed}


def test_a_part_is_put_on_the_list(store: Client) -> None:
    answer = store.post(url("part_add"), given(), follow=True)
    part = Part.objects.get()
    assert part.price == Decimal("0.85")
    assert "EL-7 is on the parts list." in words(answer)


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"price": "-1"}, "price"),
        ({"price": "0.001"}, "price"),
        ({"price": "dear"}, "price"),
        ({"number": ""}, "number"),
        ({"condition": "mint"}, "condition"),
        ({"tax_rate_id": "999"}, "tax_rate_id"),
    ],
)
def test_bad_input_stands_at_its_field(
    store: Client, changed: dict[str, str], field: str
) -> None:
    answer = store.post(url("part_add"), given(**changed))
    assert answer.status_code == 422
    assert error_at(answer, field)
    assert not Part.objects.exists()


def test_the_same_number_in_the_same_condition_is_refused(store: Client) -> None:
    PartFactory.create(number="el-7")
    answer = store.post(url("part_add"), given())
    assert "is on the parts list in this condition already" in error_at(
        answer, "number"
    )
    assert Part.objects.count() == 1


def test_a_retired_part_is_off_the_list_unless_asked_for(store: Client) -> None:
    PartFactory.create(number="OLD-1", is_retired=True)
    assert "OLD-1" not in words(store.get(url("parts")))
    assert "OLD-1" in words(store.get(url("parts"), {"retired": "yes"}))


def test_the_list_is_narrowed_by_condition(store: Client) -> None:
    PartFactory.create(number="NEW-1")
    PartFactory.create(number="USED-1", condition=PartCondition.USED)
    page = words(store.get(url("parts"), {"condition": "used"}))
    assert "USED-1" in page
    assert "NEW-1" not in page
    assert store.get(url("parts"), {"condition": "mint"}).status_code == 200


def test_a_changed_price_and_who_changed_it_stand_in_the_history(
    store: Client,
) -> None:
    part = PartFactory.create(number="EL-7")
    form = store.get(url("part_edit", part.pk)).context["form"]
    shown = {name: str(form[name].value() or "") for name in form.fields}
    shown.pop("is_retired")
    seen = {f"initial-{name}": value for name, value in shown.items()}
    answer = store.post(
        url("part_edit", part.pk), {**shown, **seen, "price": "1.10"}, follow=True
    )
    assert answer.redirect_chain, words(answer)
    assert "EL-7 saved." in words(answer)
    assert "price:" in words(answer)


def test_a_long_list_takes_no_more_queries(
    store: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    ShopSettingsFactory.create()
    PartFactory.create_batch(2)
    few = queries_of(store, url("parts"))
    part = PartFactory.create_batch(30)[0]
    assert queries_of(store, url("parts")) == few
    with no_query_while_rendering(monkeypatch):
        store.get(url("parts"))
        store.get(url("part", part.pk))
        store.get(url("part_edit", part.pk))
