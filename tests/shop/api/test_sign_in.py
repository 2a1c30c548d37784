"""Programs sign in for a token; guessing is locked out."""

import pytest
from allauth.mfa.models import Authenticator
from django.conf import settings
from rest_framework.authtoken.models import Token
from rest_framework.test import APIClient

from tests.builders import PASSWORD, UserFactory
from tests.shop.api.clients import client_of

pytestmark = pytest.mark.django_db


def sign_in(username: str, password: str) -> object:
    return APIClient().post(
        "/api/token", {"username": username, "password": password}, format="json"
    )


def test_name_and_password_give_a_token_that_opens_the_door() -> None:
    UserFactory(username="mo", first_name="Mo")
    answer = APIClient().post(
        "/api/token", {"username": "mo", "password": PASSWORD}, format="json"
    )
    assert answer.status_code == 200
    client = APIClient()
    client.credentials(HTTP_AUTHORIZATION=f"Token {answer.json()['token']}")
    me = client.get("/api/me").json()
    assert (me["name"], me["role"]) == ("Mo", "technician")
    assert "find_faults" in me["acts"]


def test_the_same_token_is_given_again() -> None:
    UserFactory(username="mo")
    tokens = {
        APIClient()
        .post("/api/token", {"username": "mo", "password": PASSWORD}, format="json")
        .json()["token"]
        for _ in range(2)
    }
    assert len(tokens) == 1


def test_a_token_given_back_opens_nothing_more() -> None:
    client = client_of(UserFactory())
    assert client.delete("/api/me/token").status_code == 204
    assert client.get("/api/me").status_code == 401


@pytest.mark.parametrize(
    ("username", "password"),
    [("mo", "wrong"), ("nobody", PASSWORD), ("closed", PASSWORD), ("mo\x00", "x")],
)
def test_what_does_not_belong_together_gives_no_token(
    username: str, password: str
) -> None:
    UserFactory(username="mo")
    UserFactory(username="closed", is_active=False)
    answer = APIClient().post(
        "/api/token", {"username": username, "password": password}, format="json"
    )
    assert answer.status_code == 400
    assert answer["Content-Type"] == "application/problem+json"
    assert not Token.objects.exists()


def test_after_some_wrong_guesses_the_right_password_is_refused_too() -> None:
    UserFactory(username="mo")
    for _ in range(settings.AXES_FAILURE_LIMIT):
        APIClient().post(
            "/api/token", {"username": "mo", "password": "guess"}, format="json"
        )
    answer = APIClient().post(
        "/api/token", {"username": "mo", "password": PASSWORD}, format="json"
    )
    assert answer.status_code == 403
    assert answer.json()["code"] == "locked-out"


def test_a_second_factor_is_not_walked_around() -> None:
    person = UserFactory(username="mo")
    Authenticator.objects.create(
        user=person, type=Authenticator.Type.TOTP, data={"secret": "x"}
    )
    answer = APIClient().post(
        "/api/token", {"username": "mo", "password": PASSWORD}, format="json"
    )
    assert answer.status_code == 403
    assert answer.json()["code"] == "second-factor-needed"
    assert not Token.objects.exists()
