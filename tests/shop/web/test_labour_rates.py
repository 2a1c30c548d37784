from decimal import Decimal

import pytest

from shop.domain.roles import Role
from shop.models import LabourRate
from tests.builders import ShopSettingsFactory, UserFactory
from tests.shop.web.pages import (
    as_role,
    error_at,
    no_query_while_rendering,
    url,
    words,
)

pytestmark = pytest.mark.django_db


def test_the_owner_sets_a_rate_and_takes_it_away_again() -> None:
    ShopSettingsFactory.create(hourly_rate=Decimal("54.00"))
    mo, owner = UserFactory.create(first_name="Mo"), as_role(Role.OWNER)
    given = {"technician_id": str(mo.pk), "kind": "repair", "hourly_rate": "61,50"}
    done = owner.post(url("labour_rates"), given, follow=True)
    assert "Repair: the rate is set." in words(done)
    assert "€61.50 set" in words(done)
    assert LabourRate.objects.get().hourly_rate == Decimal("61.50")
    owner.post(url("labour_rates"), {**given, "hourly_rate": ""})
    assert not LabourRate.objects.exists()


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"hourly_rate": "much"}, "hourly_rate"),
        ({"hourly_rate": "-1"}, "hourly_rate"),
        ({"hourly_rate": "1.005"}, "hourly_rate"),
        ({"kind": "magic"}, "kind"),
        ({"technician_id": "404"}, "technician_id"),
    ],
)
def test_bad_input_stands_at_its_field(given: dict[str, str], field: str) -> None:
    answer = as_role(Role.OWNER).post(
        url("labour_rates"), {"kind": "repair", "hourly_rate": "58", **given}
    )
    assert answer.status_code == 422
    assert error_at(answer, field)
    assert not LabourRate.objects.exists()


def test_rates_are_the_owners() -> None:
    for role in (Role.FRONT_DESK, Role.TECHNICIAN, Role.STOREKEEPER):
        assert as_role(role).get(url("labour_rates")).status_code == 403


def test_the_template_asks_the_database_nothing(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    owner = as_role(Role.OWNER)
    with no_query_while_rendering(monkeypatch):
        assert owner.get(url("labour_rates")).status_code == 200
