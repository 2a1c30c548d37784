"""Accounts are opened, changed and closed by the owner."""

from decimal import Decimal

import pytest

from shop.actions.people import (
    add_person,
    close_account,
    edit_person,
    reopen_account,
    set_password,
)
from shop.domain.people import PersonDetails
from shop.domain.refusals import NotAllowed, Refusal
from shop.models import HistoryEntry, User
from tests.builders import MORNING, OwnerFactory, UserFactory

pytestmark = pytest.mark.django_db
GOOD = "copper braid 1961"


def test_the_owner_opens_an_account_with_a_role() -> None:
    person = add_person(
        details=PersonDetails(
            username="mo.hale",
            first_name="Mo",
            role="storekeeper",
            hourly_rate=Decimal("48.00"),
        ),
        password=GOOD,
        acting_user=OwnerFactory(),
        at=MORNING,
    )
    person.refresh_from_db()
    assert person.check_password(GOOD)
    assert (person.role, person.is_staff, person.is_superuser) == (
        "storekeeper",
        False,
        False,
    )
    assert HistoryEntry.objects.get().summary == "Account opened for Mo (storekeeper)"


@pytest.mark.parametrize(
    ("username", "password", "field"),
    [
        ("mo.hale", "1234", "password"),
        ("mo.hale", "mo.hale.mo", "password"),
        ("TAKEN", GOOD, "username"),
        ("mo hale", GOOD, "username"),
    ],
)
def test_a_weak_password_or_a_taken_name_opens_no_account(
    username: str, password: str, field: str
) -> None:
    UserFactory(username="taken")
    owner = OwnerFactory()
    with pytest.raises(Refusal) as refused:
        add_person(
            details=PersonDetails(username=username),
            password=password,
            acting_user=owner,
            at=MORNING,
        )
    assert refused.value.field == field
    assert User.objects.count() == 2


def test_a_new_role_is_told_in_the_history() -> None:
    person = UserFactory()
    edit_person(
        person_id=person.pk,
        changes={"role": "front_desk"},
        acting_user=OwnerFactory(),
        at=MORNING,
    )
    person.refresh_from_db()
    assert person.role == "front_desk"
    assert HistoryEntry.objects.get().changes == {"role": ["technician", "front_desk"]}


def test_the_last_owner_stays_an_owner() -> None:
    owner = OwnerFactory()
    OwnerFactory(is_active=False)
    with pytest.raises(Refusal) as refused:
        edit_person(
            person_id=owner.pk,
            changes={"role": "technician"},
            acting_user=owner,
            at=MORNING,
        )
    assert refused.value.code == "last-owner"
    with pytest.raises(Refusal):
        close_account(person_id=owner.pk, acting_user=owner, at=MORNING)
    owner.refresh_from_db()
    assert (owner.role, owner.is_active) == ("owner", True)


def test_one_of_two_owners_may_step_down() -> None:
    owner, other = OwnerFactory(), OwnerFactory()
    edit_person(
        person_id=other.pk,
        changes={"role": "technician"},
        acting_user=owner,
        at=MORNING,
    )
    other.refresh_from_db()
    assert other.role == "technician"


def test_a_closed_account_can_be_opened_again() -> None:
    owner, person = OwnerFactory(), UserFactory()
    close_account(person_id=person.pk, acting_user=owner, at=MORNING)
    assert not User.objects.get(pk=person.pk).is_active
    reopen_account(person_id=person.pk, acting_user=owner, at=MORNING)
    assert User.objects.get(pk=person.pk).is_active
    assert [e.verb for e in HistoryEntry.objects.order_by("pk")] == [
        "person.closed",
        "person.reopened",
    ]


def test_everybody_changes_their_own_password_and_the_owner_anybodys() -> None:
    person, other, owner = UserFactory(), UserFactory(), OwnerFactory()
    set_password(person_id=person.pk, password=GOOD, acting_user=person, at=MORNING)
    set_password(person_id=other.pk, password=GOOD, acting_user=owner, at=MORNING)
    with pytest.raises(NotAllowed):
        set_password(person_id=other.pk, password=GOOD, acting_user=person, at=MORNING)
    person.refresh_from_db()
    assert person.check_password(GOOD)


def test_a_technician_opens_no_accounts() -> None:
    with pytest.raises(NotAllowed):
        add_person(
            details=PersonDetails(username="mo"),
            password=GOOD,
            acting_user=UserFactory(),
            at=MORNING,
        )
