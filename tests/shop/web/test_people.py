import pytest
from django.test import Client

from shop.domain.roles import Role
from shop.models import User
from tests.builders import OwnerFactory, UserFactory
from tests.shop.web.pages import error_at, queries_of, signed_in, url, words

pytestmark = pytest.mark.django_db

NEW = {
    "username": "petra",
    "first_name": "Petra",
    "role": "storekeeper",
    "password": "three brass washers",
}


@pytest.fixture
def owner() -> User:
    return OwnerFactory.create(first_name="Maud")


@pytest.fixture
def desk(owner: User) -> Client:
    return signed_in(owner)


def test_the_owner_opens_an_account_that_can_sign_in(desk: Client) -> None:
    answer = desk.post(url("person_add"), NEW, follow=True)
    assert "Petra can sign in as petra." in words(answer)
    there = Client().post(
        "/account/login/", {"login": "petra", "password": NEW["password"]}
    )
    assert there.headers["Location"] == "/"


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"username": ""}, "username"),
        ({"username": "pet ra"}, "username"),
        ({"role": ""}, "role"),
        ({"role": "king"}, "role"),
        ({"password": "12345678"}, "password"),
        ({"email": "nobody"}, "email"),
        ({"hourly_rate": "-4"}, "hourly_rate"),
    ],
)
def test_bad_input_stands_at_its_field(
    desk: Client, changed: dict[str, str], field: str
) -> None:
    answer = desk.post(url("person_add"), {**NEW, **changed})
    assert answer.status_code == 422
    assert error_at(answer, field)
    assert User.objects.count() == 1


def test_a_password_is_never_sent_back_to_the_browser(desk: Client) -> None:
    answer = desk.post(url("person_add"), {**NEW, "username": ""})
    assert NEW["password"] not in answer.content.decode()


def test_the_last_owner_keeps_the_role(desk: Client, owner: User) -> None:
    shown = {"username": owner.username, "first_name": "Maud"}
    seen = {f"initial-{name}": value for name, value in shown.items()}
    answer = desk.post(
        url("person_edit", owner.pk),
        {**shown, **seen, "initial-role": "owner", "role": "technician"},
    )
    assert answer.status_code == 422
    assert "is the only owner" in error_at(answer, "role")


def test_a_closed_account_cannot_sign_in_and_can_be_opened_again(
    desk: Client,
) -> None:
    person = UserFactory.create(username="ines")
    closed = desk.post(url("person_close", person.pk), follow=True)
    assert "can no longer sign in" in words(closed)
    session = signed_in(person)
    assert session.get(url("today")).status_code == 302
    opened = desk.post(url("person_reopen", person.pk), follow=True)
    assert "can sign in again." in words(opened)


def test_a_new_password_replaces_the_old_one(desk: Client) -> None:
    person = UserFactory.create(username="ines")
    weak = desk.post(url("person_password", person.pk), {"password": "password"})
    assert error_at(weak, "password")
    desk.post(url("person_password", person.pk), {"password": "seven copper rivets"})
    person.refresh_from_db()
    assert person.check_password("seven copper rivets")


def test_many_people_take_no_more_queries_than_few(desk: Client) -> None:
    few = queries_of(desk, url("people"))
    UserFactory.create_batch(20, role=Role.TECHNICIAN.value)
    assert queries_of(desk, url("people")) == few
