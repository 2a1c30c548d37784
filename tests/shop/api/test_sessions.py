import pytest

from shop.domain.roles import Role
from tests.builders import UserFactory
from tests.shop.api.clients import client_of
from tests.shop.signed_in_places import session_of, sign_in_from
from tests.shop.web.pages import url

pytestmark = pytest.mark.django_db


def test_one_lists_and_ends_one_s_own() -> None:
    petra = UserFactory()
    browser = sign_in_from(petra)
    client = client_of(petra)
    (row,) = client.get("/api/me/sessions").json()["rows"]
    assert row["id"] == session_of(browser).pk
    assert client.delete(f"/api/sessions/{row['id']}").status_code == 204
    assert browser.get(url("bikes")).status_code == 302
    assert client.delete(f"/api/sessions/{row['id']}").status_code == 404


@pytest.mark.parametrize("role", list(Role))
def test_another_s_are_the_owner_s_alone(role: Role) -> None:
    petra = UserFactory()
    row = session_of(sign_in_from(petra))
    client = client_of(UserFactory(role=role.value))
    listed = client.get(f"/api/people/{petra.pk}/sessions").status_code
    ended = client.delete(f"/api/sessions/{row.pk}").status_code
    assert (listed, ended) == ((200, 204) if role is Role.OWNER else (403, 404))
