import pytest
from django.test import Client

from shop.domain.roles import Role
from shop.models import TaxRate
from tests.builders import PartFactory, TaxRateFactory
from tests.shop.web.pages import as_role, error_at, url, words

pytestmark = pytest.mark.django_db


@pytest.fixture
def desk() -> Client:
    return as_role(Role.OWNER)


def test_a_rate_is_taken_into_use(desk: Client) -> None:
    assert "No tax rate yet" in words(desk.get(url("tax_rates")))
    answer = desk.post(
        url("tax_rates"), {"label": "Standard", "percent": "7,7"}, follow=True
    )
    assert "Standard is in use." in words(answer)
    assert "7.7 %" in words(answer)


@pytest.mark.parametrize("percent", ["", "-1", "101", "x", "1.23456"])
def test_a_rate_that_is_none_stands_at_its_field(desk: Client, percent: str) -> None:
    answer = desk.post(url("tax_rates"), {"label": "Odd", "percent": percent})
    assert answer.status_code == 422
    assert error_at(answer, "percent")
    assert not TaxRate.objects.exists()


def test_a_name_is_given_once(desk: Client) -> None:
    TaxRateFactory.create(label="Standard")
    answer = desk.post(url("tax_rates"), {"label": "Standard", "percent": "20"})
    assert "already" in error_at(answer, "label")


def test_a_rate_that_parts_bear_is_not_retired(desk: Client) -> None:
    part = PartFactory.create()
    answer = desk.post(url("tax_rate_retire", part.tax_rate_id), follow=True)
    assert "give them another first" in words(answer)
    assert not TaxRate.objects.get(pk=part.tax_rate_id).is_retired


def test_a_rate_is_retired_and_stays_in_sight(desk: Client) -> None:
    rate = TaxRateFactory.create(label="Old rate")
    answer = desk.post(url("tax_rate_retire", rate.pk), follow=True)
    assert "Old rate is retired." in words(answer)
    assert "retired" in words(desk.get(url("tax_rates")))
    assert desk.post(url("tax_rate_retire", 999)).status_code == 404
