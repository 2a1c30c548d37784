import pytest
from django.http import HttpRequest, HttpResponse
from django.test import Client, RequestFactory

from shop.domain.refusals import (
    ConcurrentChange,
    IllegalMove,
    NotAllowed,
    NotFound,
    Refusal,
)
from shop.domain.roles import Role
from shop.web.refusals import RefusalMiddleware
from tests.shop.web.pages import as_role, html, words

pytestmark = pytest.mark.django_db


def answer_to(error: Exception) -> HttpResponse | None:
    def unused(_request: HttpRequest) -> HttpResponse:
        raise AssertionError

    return RefusalMiddleware(unused).process_exception(RequestFactory().get("/"), error)


@pytest.mark.parametrize(
    ("refusal", "status"),
    [
        (NotAllowed("c", "Ask the owner."), 403),
        (NotFound("c", "There is no such bike."), 404),
        (IllegalMove("c", "It has ended."), 409),
        (ConcurrentChange("c", "Somebody was faster."), 409),
        (Refusal("c", "That is too long."), 400),
    ],
)
def test_a_refusal_becomes_a_page_that_says_it(refusal: Refusal, status: int) -> None:
    answer = answer_to(refusal)
    assert answer is not None
    assert answer.status_code == status
    assert refusal.message in words(answer)
    assert "Nothing was changed." in words(answer)


def test_a_failure_of_the_program_is_left_alone() -> None:
    assert answer_to(KeyError("x")) is None


def test_error_pages_say_what_to_do_next() -> None:
    client = as_role(Role.TECHNICIAN)
    missing = client.get("/nothing/")
    assert missing.status_code == 404
    assert "There is nothing at this address" in words(missing)
    assert "site-nav" in html(missing)
    anonymous = Client().get("/nothing/")
    assert anonymous.status_code == 404
    assert "site-nav" not in html(anonymous)


def test_a_stale_form_says_that_nothing_was_saved() -> None:
    answer = Client(enforce_csrf_checks=True).post("/account/login/", {"login": "x"})
    assert answer.status_code == 403
    assert "gone stale, so nothing was saved" in words(answer)


def test_a_host_that_is_not_ours_is_not_understood() -> None:
    answer = Client().get("/livez", headers={"host": "evil.example"})
    assert answer.status_code == 400


def test_a_broken_page_says_that_nothing_was_saved(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    client = as_role(Role.OWNER)
    client.raise_request_exception = False
    monkeypatch.setattr("shop.web.today.board", lambda **_: 1 / 0)
    answer = client.get("/")
    assert answer.status_code == 500
    assert "Something broke on our side" in words(answer)
    assert "ZeroDivisionError" not in html(answer)
