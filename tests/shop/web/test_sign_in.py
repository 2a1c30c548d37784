from urllib.parse import urlsplit

import pytest
from django.core import mail
from django.core.cache import cache
from django.http import HttpResponseBase
from django.test import Client, RequestFactory
from pytest_django import Settings

from shop.web.sign_in import client_ip, name_tried
from tests.builders import PASSWORD, UserFactory
from tests.shop.web.pages import html, signed_in, url, words

pytestmark = pytest.mark.django_db

LOGIN = "/account/login/"


@pytest.fixture(autouse=True)
def _person() -> None:
    cache.clear()  # attempts are counted there, over all tests of a minute
    UserFactory.create(username="tobias", email="tobias@shop.example")


def sign_in(
    name: str, password: str = PASSWORD, ip: str = "192.0.2.7"
) -> HttpResponseBase:
    return Client().post(LOGIN, {"login": name, "password": password}, REMOTE_ADDR=ip)


@pytest.mark.parametrize("name", ["tobias", "tobias@shop.example"])
def test_one_signs_in_by_name_or_by_mail(name: str) -> None:
    assert sign_in(name).headers["Location"] == url("today")


def test_after_signing_in_one_is_where_one_wanted_to_go() -> None:
    client = Client()
    asked = client.get(url("bikes"))
    there = client.post(
        asked.headers["Location"],
        {"login": "tobias", "password": PASSWORD, "next": url("bikes")},
    )
    assert there.headers["Location"] == url("bikes")


def test_signing_in_never_leads_away_from_here() -> None:
    there = Client().post(
        LOGIN,
        {"login": "tobias", "password": PASSWORD, "next": "https://evil.example/"},
    )
    assert there.headers["Location"] == url("today")


def test_a_wrong_password_says_neither_which_was_wrong() -> None:
    unknown = words(sign_in("nobody", "x"))
    known = words(sign_in("tobias", "x"))
    said = "The username and/or password you specified are not correct."
    assert said in unknown
    assert said in known


def test_guessing_is_locked_out_and_says_for_how_long() -> None:
    for _ in range(4):
        assert sign_in("tobias", "wrong").status_code == 200
    fifth = sign_in("tobias", "wrong")
    assert fifth.status_code == 429
    assert "for 15 minutes" in words(fifth)
    right = sign_in("tobias")
    assert right.status_code == 429


def test_a_lock_is_for_one_name_at_one_address_alone() -> None:
    UserFactory.create(username="ines")
    for _ in range(5):
        sign_in("tobias", "wrong")
    assert sign_in("tobias", ip="192.0.2.8").status_code == 302
    assert sign_in("ines").status_code == 302


def test_the_lock_counts_a_name_however_it_is_written() -> None:
    for name in ("tobias", "Tobias", "TOBIAS ", "tobias"):
        assert sign_in(name, "wrong").status_code == 200
    assert sign_in("toBias", "wrong").status_code == 429


def test_nobody_registers() -> None:
    page = Client().get("/account/signup/")
    assert "Accounts are made by the owner" in words(page)
    tried = Client().post(
        "/account/signup/",
        {"username": "mallory", "password1": PASSWORD, "email": "m@x.example"},
    )
    assert "Accounts are made by the owner" in words(tried)


def test_a_new_password_comes_by_mail_and_no_page_tells_who_has_an_account() -> None:
    client = Client()
    known = client.post("/account/password/reset/", {"email": "tobias@shop.example"})
    unknown = client.post("/account/password/reset/", {"email": "nobody@x.example"})
    assert known.status_code == unknown.status_code == 302
    assert known.headers["Location"] == unknown.headers["Location"]
    to_tobias = [letter for letter in mail.outbox if "tobias" in letter.to[0]]
    assert len(mail.outbox) == len(to_tobias) == 1
    assert to_tobias[0].subject == "A new password for Loomwright"
    assert "/account/password/reset/key/" in to_tobias[0].body
    assert "Your sign-in name is tobias." in to_tobias[0].body


def test_the_letter_s_address_sets_the_new_password_once() -> None:
    client = Client()
    client.post("/account/password/reset/", {"email": "tobias@shop.example"})
    link = next(
        word for word in mail.outbox[0].body.split() if "/password/reset/key/" in word
    )
    form = client.get(urlsplit(link).path, follow=True)
    where = form.redirect_chain[-1][0]
    new = {"password1": "seven copper rivets", "password2": "seven copper rivets"}
    client.post(where, new)
    assert sign_in("tobias", "seven copper rivets").status_code == 302
    again = Client().get(urlsplit(link).path, follow=True)
    assert "invalid" in words(again)


def test_addresses_are_the_owner_s_to_keep() -> None:
    client = signed_in(UserFactory.create())
    answer = client.get("/account/email/")
    assert answer.headers["Location"] == url("account")


def test_the_second_step_is_turned_on_with_the_password_asked_again() -> None:
    client = Client()
    client.post(LOGIN, {"login": "tobias", "password": PASSWORD})
    again = client.get("/account/2fa/totp/activate/")
    page = client.post(again.headers["Location"], {"password": PASSWORD}, follow=True)
    assert page.status_code == 200
    assert 'src="data:image/svg+xml' in html(page)


def test_one_signs_out_by_a_button_not_by_a_link() -> None:
    client = signed_in(UserFactory.create())
    client.get("/account/logout/")
    assert client.get(url("today")).status_code == 200
    client.post("/account/logout/")
    assert client.get(url("today")).status_code == 302


def test_the_account_page_says_who_one_is() -> None:
    person = UserFactory.create(username="petra", first_name="Petra")
    page = words(signed_in(person).get(url("account")))
    assert "Petra" in page
    assert "Technician" in page
    assert "Turn on a second step" in page


def test_only_our_own_proxies_are_believed(settings: Settings) -> None:
    forged = RequestFactory().get("/", headers={"X-Forwarded-For": "203.0.113.9"})
    assert client_ip(forged) == "127.0.0.1"
    settings.ALLAUTH_TRUSTED_PROXY_COUNT = 1
    assert client_ip(forged) == "203.0.113.9"


def test_a_caller_without_an_address_is_still_a_caller() -> None:
    request = RequestFactory().get("/")
    del request.META["REMOTE_ADDR"]
    assert client_ip(request) == "::"


def test_the_name_tried_is_read_from_wherever_it_came() -> None:
    posted = RequestFactory().post("/", {"login": " Ada "})
    assert name_tried(posted, None) == "ada"
    assert name_tried(posted, {"email": "Ada@X.example"}) == "ada@x.example"
    assert name_tried(RequestFactory().post("/"), None) == ""
