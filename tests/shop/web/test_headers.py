import pytest
from django.test import Client

from shop.domain.roles import Role
from tests.shop.web.pages import as_role, html, url

pytestmark = pytest.mark.django_db


def test_the_browser_is_told_to_run_nothing_but_ours() -> None:
    policy = as_role(Role.OWNER).get(url("today")).headers["Content-Security-Policy"]
    rules = {part.split()[0]: part.split()[1:] for part in policy.split("; ")}
    assert rules["default-src"] == ["'none'"]
    assert rules["script-src"] == ["'self'"]
    assert rules["style-src"] == ["'self'"]
    assert rules["frame-ancestors"] == ["'none'"]
    assert "unsafe" not in policy


def test_the_usual_headers_are_there_for_everybody() -> None:
    for answer in (Client().get("/account/login/"), Client().get("/nothing/")):
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert answer.headers["X-Frame-Options"] == "DENY"
        assert answer.headers["Referrer-Policy"] == "same-origin"
        assert answer.headers["Cross-Origin-Opener-Policy"] == "same-origin"
        assert "camera=(self)" in answer.headers["Permissions-Policy"]


def test_nobody_else_finds_a_page_in_the_browser_s_cache() -> None:
    answer = as_role(Role.OWNER).get(url("today"))
    assert answer.headers["Cache-Control"] == "private, no-cache"


def test_htmx_may_neither_evaluate_text_nor_write_styles() -> None:
    page = html(as_role(Role.OWNER).get(url("today")))
    assert '"allowEval":false' in page
    assert '"includeIndicatorStyles":false' in page
