import pytest
from django.test import Client

from shop.domain.roles import Role
from tests.builders import PASSWORD, ShopSettingsFactory, UserFactory
from tests.shop.signed_in_places import FIREFOX, session_of, sign_in_from
from tests.shop.web.pages import as_role, queries_of, signed_in, url, words

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _shop() -> None:
    ShopSettingsFactory.create()


def test_signing_in_leaves_a_line_with_device_and_address() -> None:
    UserFactory(username="petra")
    client = Client(REMOTE_ADDR="192.0.2.44", headers={"User-Agent": FIREFOX})
    client.post("/account/login/", {"login": "petra", "password": PASSWORD})
    page = words(client.get(url("sessions")))
    assert "Firefox on Linux this one 192.0.2.44" in page


def test_one_signs_out_another_device() -> None:
    petra = UserFactory()
    here, there = sign_in_from(petra), sign_in_from(petra)
    here.post(url("session_end", session_of(there).pk))
    assert there.get(url("bikes")).status_code == 302
    assert here.get(url("bikes")).status_code == 200


def test_ending_the_session_in_use_signs_out() -> None:
    petra = UserFactory()
    here = sign_in_from(petra)
    answer = here.post(url("session_end", session_of(here).pk), follow=True)
    assert "Sign in" in words(answer)


def test_another_s_session_is_not_there_for_anybody_but_the_owner() -> None:
    there = sign_in_from(UserFactory())
    row = session_of(there)
    answer = as_role(Role.FRONT_DESK).post(url("session_end", row.pk))
    assert answer.status_code == 404
    assert there.get(url("bikes")).status_code == 200
    as_role(Role.OWNER).post(url("session_end", row.pk))
    assert there.get(url("bikes")).status_code == 302


def test_the_owner_signs_somebody_out_everywhere() -> None:
    petra = UserFactory()
    places = [sign_in_from(petra) for _ in range(2)]
    owner = as_role(Role.OWNER)
    assert "192.0.2.7" in words(owner.get(url("person_sessions", petra.pk)))
    owner.post(url("person_sessions_end", petra.pk))
    assert [place.get(url("bikes")).status_code for place in places] == [302, 302]
    assert "Signed in nowhere" in words(owner.get(url("person_sessions", petra.pk)))


def test_many_sessions_take_no_more_queries_than_one() -> None:
    petra = UserFactory()
    client = signed_in(petra)
    few = queries_of(client, url("sessions"))
    for _ in range(4):
        sign_in_from(petra)
    assert queries_of(client, url("sessions")) == few


def test_the_package_s_own_list_leads_to_ours() -> None:
    answer = as_role(Role.TECHNICIAN).get("/account/sessions/")
    assert answer.headers["Location"] == url("sessions")
