"""A second step: demanded from a day on, set up first, nobody locked out."""

from datetime import timedelta

import pytest
from allauth.mfa.models import Authenticator
from allauth.mfa.totp.internal.auth import (
    format_hotp_value,
    hotp_value,
    yield_hotp_counters_from_time,
)
from django.core.cache import cache
from django.test import Client
from django.utils import timezone
from rest_framework.test import APIClient

from shop.domain.roles import Role
from shop.models import SignInRules
from tests.builders import PASSWORD, ShopSettingsFactory, UserFactory
from tests.shop.api.clients import client_of
from tests.shop.signed_in_places import give_code
from tests.shop.web.pages import as_role, html, signed_in, url, words

pytestmark = pytest.mark.django_db
LOGIN = "/account/login/"


@pytest.fixture(autouse=True)
def _shop() -> None:
    cache.clear()
    ShopSettingsFactory.create()


def demand(days: int) -> None:
    day = timezone.localdate() + timedelta(days=days)
    SignInRules.objects.create(second_step_from=day)


def code_of(secret: str) -> str:
    counter = next(yield_hotp_counters_from_time())
    return str(format_hotp_value(hotp_value(secret, counter)))


@pytest.mark.parametrize("role", [Role.OWNER, Role.FRONT_DESK])
def test_on_the_day_who_handles_money_sets_one_up_before_anything_else(
    role: Role,
) -> None:
    demand(days=0)
    client = as_role(role)
    for name in ("today", "customers", "bikes"):
        assert client.get(url(name)).headers["Location"] == url("second_step")
    page = client.get(url("second_step"))
    assert "First, a second step" in words(page)
    assert 'href="/account/2fa/totp/activate/"' in html(page)


@pytest.mark.parametrize("role", [Role.TECHNICIAN, Role.STOREKEEPER])
def test_the_others_work_on_as_ever(role: Role) -> None:
    demand(days=0)
    assert as_role(role).get(url("bikes")).status_code == 200


def test_before_the_day_everything_is_open_and_signing_in_says_what_will_come() -> None:
    demand(days=9)
    UserFactory(username="maud", role=Role.OWNER.value)
    client = Client()
    client.post(LOGIN, {"login": "maud", "password": PASSWORD})
    page = client.get(url("today"))
    assert page.status_code == 200
    assert "signing in asks you for a second step" in words(page)


def test_setting_up_a_code_opens_the_shop_and_hands_out_spare_codes() -> None:
    demand(days=0)
    UserFactory(username="maud", role=Role.OWNER.value)
    client = Client()
    client.post(LOGIN, {"login": "maud", "password": PASSWORD})
    there = "/account/2fa/totp/activate/"
    asked = client.get(there)
    if asked.status_code == 302:
        client.post(asked.headers["Location"], {"password": PASSWORD})
        asked = client.get(there)
    secret = asked.context["form"].secret
    done = client.post(there, {"code": code_of(secret)}, follow=True)
    assert "Spare codes" in words(done)
    assert client.get(url("today")).status_code == 200


def test_with_a_code_the_password_alone_lets_nobody_in() -> None:
    maud = UserFactory(username="maud", role=Role.OWNER.value)
    code = give_code(maud)
    client = Client()
    first = client.post(LOGIN, {"login": "maud", "password": PASSWORD}, follow=True)
    assert "Now the second step" in words(first)
    assert client.get(url("today")).status_code == 302
    wrong = client.post("/account/2fa/authenticate/", {"code": "000000"})
    assert "That is not the code" in words(wrong)
    right = {"code": code_of(code.data["secret"])}
    client.post("/account/2fa/authenticate/", right)
    assert client.get(url("today")).status_code == 200


def test_guessing_the_code_is_locked_out() -> None:
    maud = UserFactory(username="maud", role=Role.OWNER.value)
    code = give_code(maud)
    client = Client()
    client.post(LOGIN, {"login": "maud", "password": PASSWORD})
    for _ in range(10):
        client.post("/account/2fa/authenticate/", {"code": "000000"})
    right = {"code": code_of(code.data["secret"])}
    client.post("/account/2fa/authenticate/", right)
    assert client.get(url("today")).status_code == 302


def test_a_program_gets_no_token_past_the_second_step() -> None:
    demand(days=0)
    owner = UserFactory(username="maud", role=Role.OWNER.value)
    client = client_of(owner)
    answer = client.get("/api/bikes")
    assert answer.status_code == 403
    assert answer.json()["code"] == "second-step-due"
    body = {"username": "maud", "password": PASSWORD}
    fresh = APIClient().post("/api/token", body, format="json")
    assert fresh.status_code in {200, 403}
    assert client_of(UserFactory()).get("/api/bikes").status_code == 200


def test_the_owner_sets_the_day_and_sees_who_lacks_one() -> None:
    owner = UserFactory(role=Role.OWNER.value)
    client = signed_in(owner)
    day = timezone.localdate() + timedelta(days=14)
    answer = client.post(url("sign_in_rules"), {"from_day": day.isoformat()})
    assert answer.headers["Location"] == url("sign_in_rules")
    assert "lacking" in words(client.get(url("sign_in_rules")))
    assert SignInRules.objects.get().second_step_from == day
    bad = client.post(url("sign_in_rules"), {"from_day": "some day"})
    assert bad.status_code == 422


def test_a_lost_phone_is_reset_from_the_page_of_the_person() -> None:
    desk = UserFactory(role=Role.FRONT_DESK.value)
    give_code(desk)
    answer = as_role(Role.OWNER).post(url("second_step_reset", desk.pk))
    assert answer.headers["Location"] == url("person", desk.pk)
    assert not Authenticator.objects.exists()


def test_signing_in_offers_the_passkey_and_loads_no_script_from_elsewhere() -> None:
    page = html(Client().get(LOGIN))
    assert 'id="passkey_login"' in page
    assert 'src="http' not in page
    assert "onclick" not in page
