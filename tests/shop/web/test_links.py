import re
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
import time_machine
from django.core.cache import cache
from django.http import HttpResponse
from django.http.response import HttpResponseBase
from django.test import Client
from django.urls import reverse
from pytest_django import Settings

from shop.actions.links import MadeLink, make_link, revoke_link
from shop.actions.paper import request_report
from shop.models import Customer, CustomerLink, PaperRequest, User
from shop.web.attempts import too_many
from shop.web.links import KNOCKS_A_MINUTE
from tests.builders import (
    CustomerFactory,
    FrontDeskFactory,
    StorekeeperFactory,
    UserFactory,
)
from tests.shop.paper_room import build_now, order_with_work, signed_in

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)
PAPERS = "/my-paper/"


@pytest.fixture(autouse=True)
def _today(settings: Settings, tmp_path: Path) -> object:
    settings.MEDIA_ROOT = tmp_path
    cache.clear()
    with time_machine.travel(NOW, tick=False):
        yield
    cache.clear()


@pytest.fixture
def desk() -> User:
    return FrontDeskFactory.create()


@pytest.fixture
def customer(desk: User) -> Customer:
    """A customer with one finished paper."""
    order = order_with_work()
    request_report(work_order_id=order.pk, acting_user=desk, at=NOW)
    build_now()
    return order.customer


@pytest.fixture
def made(customer: Customer, desk: User) -> MadeLink:
    return make_link(customer_id=customer.pk, acting_user=desk, at=NOW)


def enter(client: Client, secret: str) -> HttpResponse:
    answer = client.get(f"/link/{secret}/")
    assert isinstance(answer, HttpResponse)
    return answer


def is_private(answer: HttpResponseBase) -> bool:
    return (
        {"private", "no-store"} <= {*answer["Cache-Control"].split(", ")}
        and answer["Referrer-Policy"] == "no-referrer"
        and "noindex" in answer["X-Robots-Tag"]
    )


def test_the_secret_is_exchanged_for_a_session_and_leaves_the_address(
    made: MadeLink,
) -> None:
    phone = Client()
    answer = enter(phone, made.secret)
    assert (answer.status_code, answer["Location"]) == (302, PAPERS)
    assert is_private(answer)
    cookie = phone.cookies["sessionid"]
    assert cookie["httponly"]
    assert cookie["samesite"] == "Lax"
    assert made.secret not in cookie.value
    page = phone.get(PAPERS)
    assert page.status_code == 200
    assert is_private(page)
    assert made.secret not in page.content.decode()


def test_the_session_that_came_in_is_not_the_one_that_goes_on(made: MadeLink) -> None:
    phone = Client()
    phone.session.save()
    enter(phone, made.secret)
    first = phone.cookies["sessionid"].value
    enter(phone, made.secret)
    assert phone.cookies["sessionid"].value != first


def test_the_customer_sees_and_downloads_their_paper(made: MadeLink) -> None:
    phone = Client()
    enter(phone, made.secret)
    page = phone.get(PAPERS).content.decode()
    assert "Ottilie Marsh" in page
    assert "Tarnfell Heron 350 (1961)" in page
    assert "until 1 May 2026" in page
    assert "Sign out" not in page
    (way,) = re.findall(r'href="(/my-paper/\d+/file/)"', page)
    file = phone.get(way)
    assert file.status_code == 200
    assert is_private(file)
    assert file["Content-Type"] == "application/pdf"
    assert file.content.startswith(b"%PDF")


def test_another_customers_paper_is_not_there(made: MadeLink, desk: User) -> None:
    stranger = CustomerFactory.create()
    link = make_link(customer_id=stranger.pk, acting_user=desk, at=NOW)
    phone = Client()
    enter(phone, link.secret)
    assert "no finished paper for you yet" in phone.get(PAPERS).content.decode()
    paper = PaperRequest.objects.get()
    assert phone.get(f"/my-paper/{paper.pk}/file/").status_code == 404
    assert phone.get(f"/my-paper/{paper.pk + 1}/file/").status_code == 404


def test_a_link_gives_no_way_into_the_shop(made: MadeLink) -> None:
    phone = Client()
    enter(phone, made.secret)
    paper = PaperRequest.objects.get()
    for path in (
        f"/work-orders/{paper.work_order_id}/paper/",
        f"/paper/{paper.pk}/file/",
        f"/customers/{paper.work_order.customer_id}/links/",
        "/me/",
    ):
        answer = phone.get(path)
        assert answer.status_code == 302, path
        assert answer["Location"].startswith("/account/"), path
    assert phone.get(f"/api/paper/{paper.pk}").status_code in {401, 403}


def test_without_a_link_there_is_nothing_to_see() -> None:
    visitor = Client()
    answer = visitor.get(PAPERS)
    assert answer.status_code == 404
    assert "No private link is open in this browser" in answer.content.decode()
    assert visitor.get("/my-paper/1/file/").status_code == 404


def test_an_expired_link_says_so_plainly(made: MadeLink) -> None:
    phone = Client()
    enter(phone, made.secret)
    with time_machine.travel(made.expires_at, tick=False):
        phone_later = Client()
        answer = enter(phone_later, made.secret)
        assert answer.status_code == 410
        assert is_private(answer)
        assert "This link ended on 1 May 2026" in answer.content.decode()


def test_revoking_closes_what_is_open_already(made: MadeLink, desk: User) -> None:
    phone = Client()
    enter(phone, made.secret)
    paper = PaperRequest.objects.get()
    assert phone.get(f"/my-paper/{paper.pk}/file/").status_code == 200
    revoke_link(link_id=made.link_id, acting_user=desk, at=NOW)
    page = phone.get(PAPERS)
    assert page.status_code == 410
    assert "The workshop has closed this link" in page.content.decode()
    assert phone.get(f"/my-paper/{paper.pk}/file/").status_code == 410
    assert enter(Client(), made.secret).status_code == 410


def test_a_wrong_secret_says_so_and_forgets_the_link_that_was_open(
    made: MadeLink,
) -> None:
    phone = Client()
    enter(phone, made.secret)
    answer = enter(phone, "x" * 43)
    assert answer.status_code == 404
    assert "never ours" in answer.content.decode()
    assert phone.get(PAPERS).status_code == 404


def test_leaving_closes_the_page_on_this_device_alone(made: MadeLink) -> None:
    phone, tablet = Client(), Client()
    enter(phone, made.secret)
    enter(tablet, made.secret)
    assert phone.post("/my-paper/leave/").status_code == 200
    assert phone.get(PAPERS).status_code == 404
    assert tablet.get(PAPERS).status_code == 200


def test_knocking_too_often_is_answered_with_wait() -> None:
    visitor = Client()
    tries = [enter(visitor, f"guess{n}") for n in range(KNOCKS_A_MINUTE + 3)]
    answers = [answer.status_code for answer in tries]
    assert answers == [404] * KNOCKS_A_MINUTE + [429] * 3
    assert tries[-1]["Retry-After"] == "60"
    assert "Wait a minute" in tries[-1].content.decode()


def test_parallel_knocks_cannot_slip_past_the_counter() -> None:
    def knock(_: int) -> bool:
        return too_many(what="test", who="somebody", limit=20, window_s=60)

    with ThreadPoolExecutor(16) as crowd:
        refused = list(crowd.map(knock, range(320)))
    assert refused.count(False) == 20


def test_the_address_is_shown_once_to_the_front_desk(
    customer: Customer, desk: User, settings: Settings
) -> None:
    settings.PUBLIC_URL = "https://lamproom.example"
    office = signed_in(desk)
    page = office.post(reverse("shop:link_make", args=[customer.pk]))
    (secret,) = re.findall(
        r"https://lamproom\.example/link/([\w-]{43})/", page.content.decode()
    )
    assert "no-store" in page["Cache-Control"]
    again = office.get(reverse("shop:links", args=[customer.pk])).content.decode()
    assert secret not in again
    assert "Never opened." in again
    enter(Client(), secret)
    again = office.get(reverse("shop:links", args=[customer.pk])).content.decode()
    assert "Last opened 2 Mar 2026" in again


def test_the_front_desk_revokes_in_the_panel(made: MadeLink, desk: User) -> None:
    office = signed_in(desk)
    panel = office.post(
        reverse("shop:link_revoke", args=[made.link_id]),
        headers={"HX-Request": "true"},
    )
    text = panel.content.decode()
    assert text.lstrip().startswith("<section")
    assert "Revoked" in text
    assert CustomerLink.objects.get().revoked_by == desk


def test_who_may_not_share_may_not_make_or_revoke(
    made: MadeLink, customer: Customer
) -> None:
    make = reverse("shop:link_make", args=[customer.pk])
    revoke = reverse("shop:link_revoke", args=[made.link_id])
    for user in (UserFactory.create(), StorekeeperFactory.create()):
        client = signed_in(user)
        assert client.post(make).status_code == 403
        assert client.post(revoke).status_code == 403
    assert Client().post(make).status_code == 302
    assert CustomerLink.objects.get().revoked_at is None
    technician = signed_in(UserFactory.create())
    page = technician.get(reverse("shop:links", args=[customer.pk])).content.decode()
    assert "Make a link" not in page
    assert "Revoke" not in page


def test_forms_from_elsewhere_are_refused(made: MadeLink, desk: User) -> None:
    strict = Client(enforce_csrf_checks=True)
    strict.cookies = signed_in(desk).cookies
    answer = strict.post(reverse("shop:link_revoke", args=[made.link_id]))
    assert answer.status_code == 403
    assert timedelta(0) < made.expires_at - NOW
