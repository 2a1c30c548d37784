from datetime import UTC, datetime

import pytest
from django.http import HttpResponseBase
from django.test import Client

from shop.domain.act_words import act_words
from shop.domain.roles import Act, Role, may
from shop.models import ShopSettings
from tests.builders import LabourLineFactory, ShopSettingsFactory, WorkOrderFactory
from tests.shop.web.pages import as_role, error_at, url, words

pytestmark = pytest.mark.django_db


@pytest.fixture
def desk() -> Client:
    return as_role(Role.OWNER)


def save(client: Client, **changed: str) -> HttpResponseBase:
    form = client.get(url("settings")).context["form"]
    shown = {name: form[name].value() for name in form.fields}
    entered = {
        name: "" if value is None else str(value) for name, value in shown.items()
    }
    seen = {f"initial-{name}": value for name, value in entered.items()}
    return client.post(url("settings"), {**entered, **seen, **changed}, follow=True)


def test_settings_are_saved_before_the_first_day(desk: Client) -> None:
    answer = save(desk, name="The Lamp Room", time_zone="Europe/Lisbon")
    assert "Settings saved." in words(answer)
    row = ShopSettings.objects.get()
    assert (row.name, row.time_zone) == ("The Lamp Room", "Europe/Lisbon")


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("name", ""),
        ("currency", "E1R"),
        ("minor_digits", "7"),
        ("time_zone", "Old Harbour"),
        ("hourly_rate", "much"),
        ("tax_rounding", "never"),
        ("default_tax_rate_id", "999"),
        ("email", "nobody"),
    ],
)
def test_bad_input_stands_at_its_field(desk: Client, field: str, value: str) -> None:
    ShopSettingsFactory.create()
    answer = save(desk, **{field: value})
    assert answer.status_code == 422
    assert error_at(answer, field)


def test_the_currency_is_fixed_once_something_is_priced(desk: Client) -> None:
    ShopSettingsFactory.create()
    LabourLineFactory.create()
    assert "can no longer change" in error_at(save(desk, currency="CHF"), "currency")


def test_local_law_is_deferred_to(desk: Client) -> None:
    assert "set by the law of your place" in words(desk.get(url("settings")))


def test_times_are_shown_where_the_shop_is(desk: Client) -> None:
    ShopSettingsFactory.create(time_zone="Asia/Tokyo")
    order = WorkOrderFactory.create(state_since=datetime(2026, 3, 2, 20, tzinfo=UTC))
    assert "3 Mar 2026, 05:00" in words(desk.get(url("work_order", order.pk)))


def test_the_table_of_permissions_is_the_one_in_force(desk: Client) -> None:
    answer = desk.get(url("permissions"))
    shown = {row.act: row.marks for row in answer.context["rows"]}
    assert len(shown) == len(Act)
    for act in Act:
        assert shown[act_words(act)] == tuple(may(role, act) for role in Role)
