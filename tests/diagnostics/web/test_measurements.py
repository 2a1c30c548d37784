"""Measurements in the browser, which need no script."""

import pytest
from django.test import Client

from diagnostics.models import Case, Measurement, MeasurementVoid
from shop.models import User
from tests.builders import FrontDeskFactory, UserFactory
from tests.diagnostics.builders import a_case

pytestmark = pytest.mark.django_db

AT_REST = {"key": "tap", "rest_v": "12,2", "battery_c": "20", "rested_h": "12"}


def client_of(person: User | None = None) -> Client:
    client = Client()
    client.force_login(
        person or UserFactory.create(),
        backend="allauth.account.auth_backends.AuthenticationBackend",
    )
    return client


def kind_at(case: Case, kind: str = "battery-rest") -> str:
    return f"/bench/{case.pk}/measurements/{kind}/"


def test_the_bench_leads_to_the_measurements() -> None:
    case = a_case()
    client = client_of()
    assert (
        f"/bench/{case.pk}/measurements/"
        in client.get(f"/bench/{case.pk}/").content.decode()
    )
    page = client.get(f"/bench/{case.pk}/measurements/").content.decode()
    assert "Nothing measured yet" in page
    assert kind_at(case) in page


def test_steps_cautions_and_limits_stand_beside_the_form() -> None:
    page = client_of().get(kind_at(a_case())).content.decode()
    for words in ("Caution.", "hydrogen", "red on the positive one", "Two tables of"):
        assert words in page, words
    assert 'inputmode="decimal"' in page


def test_a_measurement_is_taken_judged_and_listed() -> None:
    case = a_case()
    client = client_of()
    answer = client.post(kind_at(case), AT_REST, follow=True)
    page = answer.content.decode()
    assert "Look further" in page
    assert "Charge it fully" in page
    assert "published; confidence medium" in page
    listed = client.get(f"/bench/{case.pk}/measurements/").content.decode()
    assert "Voltage at the posts: 12.20 V" in listed


def test_a_wrong_reading_is_told_at_its_field_and_nothing_is_lost() -> None:
    case = a_case()
    answer = client_of().post(kind_at(case), {**AT_REST, "rest_v": "25"})
    page = answer.content.decode()
    assert answer.status_code == 200
    assert "25 V cannot be" in page
    assert 'href="#id_rest_v"' in page
    assert 'value="25"' in page
    assert not Measurement.objects.exists()


@pytest.mark.parametrize("left_out", ["rest_v", "battery_c", "rested_h", "key"])
def test_what_must_be_there_is_asked_for(left_out: str) -> None:
    case = a_case()
    entered = {name: text for name, text in AT_REST.items() if name != left_out}
    assert client_of().post(kind_at(case), entered).status_code == 200
    assert not Measurement.objects.exists()


def test_a_kind_that_does_not_exist_is_not_found() -> None:
    assert client_of().get(kind_at(a_case(), "tea")).status_code == 404


def test_a_measurement_is_voided_with_a_reason() -> None:
    case = a_case()
    client = client_of()
    client.post(kind_at(case), AT_REST)
    address = f"/bench/measurements/{Measurement.objects.get().pk}/void/"
    assert "Void measurement 1" in client.get(address).content.decode()
    assert client.post(address, {"reason": " "}).status_code == 200
    page = client.post(address, {"reason": "Clamp, not post."}, follow=True)
    assert "Clamp, not post." in page.content.decode()
    assert MeasurementVoid.objects.count() == 1


def test_who_only_looks_is_offered_nothing_to_take() -> None:
    case = a_case()
    client = client_of(FrontDeskFactory.create())
    page = client.get(f"/bench/{case.pk}/measurements/").content.decode()
    assert kind_at(case) not in page
    assert client.get(kind_at(case)).status_code == 403
