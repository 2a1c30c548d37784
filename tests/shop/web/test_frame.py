import pytest
from django.test import Client, RequestFactory

from shop.domain.roles import Act, Role, Viewer
from shop.web import nav
from shop.web.frame import page_frame
from tests.shop.web.pages import as_role, html, url

pytestmark = pytest.mark.django_db


def texts(role: Role, path: str = "/") -> list[str]:
    viewer = Viewer(user_id=1, name="Ada", role=role)
    return [item.text for item in nav.nav_items(viewer=viewer, path=path)]


def test_a_role_is_shown_the_rooms_it_may_enter() -> None:
    assert "Shop" in texts(Role.OWNER)
    assert "Customers" not in texts(Role.STOREKEEPER)
    assert "Shop" not in texts(Role.TECHNICIAN)
    assert texts(Role.OWNER)[0] == "Today"


def test_the_room_one_is_in_is_marked() -> None:
    viewer = Viewer(user_id=1, name="Ada", role=Role.OWNER)
    marked = {
        path: [
            (item.text, item.current_kind)
            for item in nav.nav_items(viewer=viewer, path=path)
            if item.is_current
        ]
        for path in ("/", "/customers/", "/customers/7/edit/", "/me/")
    }
    assert marked == {
        "/": [("Today", "page")],
        "/customers/": [("Customers", "page")],
        "/customers/7/edit/": [("Customers", "true")],
        "/me/": [],
    }


def test_another_app_adds_a_room_once() -> None:
    room = nav.Room("Attic", "shop:account", Act.SEE_SHOP, 15)
    nav.register(room)
    nav.register(room)
    try:
        assert texts(Role.STOREKEEPER).count("Attic") == 1
    finally:
        nav._rooms.pop("shop:account")


def test_the_theme_is_light_until_chosen_and_then_remembered() -> None:
    client = as_role(Role.OWNER)
    assert 'data-theme="light"' in html(client.get(url("today")))
    answer = client.post(url("theme"), {"theme": "dark", "next": "/bikes/?q=x"})
    assert answer.headers["Location"] == "/bikes/?q=x"
    assert 'data-theme="dark"' in html(client.get(url("bikes")))


def test_a_theme_that_is_none_changes_nothing() -> None:
    client = Client()
    answer = client.post(
        url("theme"), {"theme": '"><script>', "next": "//evil.example"}
    )
    assert answer.headers["Location"] == "/"
    assert "loom_theme" not in answer.cookies
    client.cookies["loom_theme"] = '"><script>'
    assert 'data-theme="light"' in html(client.get("/account/login/"))


def test_a_page_for_nobody_has_no_navigation() -> None:
    assert "nav_items" not in page_frame(RequestFactory().get("/"))
    assert "site-nav" not in html(Client().get("/account/login/"))


def test_every_page_lets_one_skip_to_the_content() -> None:
    page = html(as_role(Role.OWNER).get(url("today")))
    assert 'href="#content"' in page
    assert 'id="content"' in page
    assert 'aria-live="polite"' in page
