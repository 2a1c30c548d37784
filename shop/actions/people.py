"""People of the shop: accounts opened, changed, closed."""

from collections.abc import Mapping
from dataclasses import asdict
from datetime import datetime

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from shop.actions._details import details_of, put
from shop.actions._rows import locked, minor_digits
from shop.actions.history import Happening, record
from shop.domain.entries import altered, differences
from shop.domain.people import PersonDetails
from shop.domain.refusals import Refusal
from shop.domain.roles import ROLE_LABELS, Act, Role
from shop.models import User


@transaction.atomic
def add_person(
    *, details: PersonDetails, password: str, acting_user: User, at: datetime
) -> User:
    """Open an account for somebody who works here.

    Raises
    ------
    Refusal
        The sign-in name is taken, or the password is weak.
    """
    acting_user.demand(Act.KEEP_PEOPLE)
    tidy = details.checked(minor_digits=minor_digits())
    _check_name_free(tidy.username, but_for=None)
    person = User(date_joined=at, **asdict(tidy))
    _check_password(password, person)
    person.set_password(password)
    try:
        with transaction.atomic():
            person.save()
    except IntegrityError as error:
        raise _name_taken(tidy.username) from error
    _record(
        person,
        "person.added",
        f"Account opened for {person.name} ({ROLE_LABELS[Role(person.role)].lower()})",
        acting_user=acting_user,
        at=at,
    )
    return person


@transaction.atomic
def edit_person(
    *, person_id: int, changes: Mapping[str, object], acting_user: User, at: datetime
) -> User:
    """Correct somebody's details or give them another role; `changes` is by field."""
    acting_user.demand(Act.KEEP_PEOPLE)
    person = _person(person_id)
    old = details_of(person, PersonDetails)
    new = altered(old, changes).checked(minor_digits=minor_digits())
    found = differences(old, new)
    if not found:
        return person
    if "username" in found:
        _check_name_free(new.username, but_for=person)
    if "role" in found:
        _check_owner_left(person)
    put(person, new, found)
    _record(
        person,
        "person.edited",
        f"Account of {person.name} changed",
        acting_user=acting_user,
        at=at,
        changes=found,
    )
    return person


@transaction.atomic
def set_password(
    *, person_id: int, password: str, acting_user: User, at: datetime
) -> User:
    """Give somebody a new password; everybody may change their own."""
    if person_id != acting_user.pk:
        acting_user.demand(Act.KEEP_PEOPLE)
    person = _person(person_id)
    _check_password(password, person)
    person.set_password(password)
    person.save(update_fields=["password"])
    _record(
        person,
        "person.password_set",
        f"New password for {person.name}",
        acting_user=acting_user,
        at=at,
    )
    return person


@transaction.atomic
def close_account(*, person_id: int, acting_user: User, at: datetime) -> User:
    """Let somebody sign in no more; what they did stays under their name."""
    acting_user.demand(Act.KEEP_PEOPLE)
    person = _person(person_id)
    if not person.is_active:
        return person
    _check_owner_left(person)
    person.is_active = False
    person.save(update_fields=["is_active"])
    _record(
        person,
        "person.closed",
        f"Account of {person.name} closed",
        acting_user=acting_user,
        at=at,
    )
    return person


@transaction.atomic
def reopen_account(*, person_id: int, acting_user: User, at: datetime) -> User:
    """Let somebody sign in again."""
    acting_user.demand(Act.KEEP_PEOPLE)
    person = _person(person_id)
    if person.is_active:
        return person
    person.is_active = True
    person.save(update_fields=["is_active"])
    _record(
        person,
        "person.reopened",
        f"Account of {person.name} opened again",
        acting_user=acting_user,
        at=at,
    )
    return person


def _person(person_id: int) -> User:
    # All owners are locked with the person, so that two owners cannot each take
    # the other's role away at the same moment.
    owners = User.objects.with_role(Role.OWNER).order_by("pk")
    list(owners.select_for_update(no_key=True))
    return locked(User.objects.all(), pk=person_id, field="person_id", name="person")


def _check_owner_left(person: User) -> None:
    if person.role != Role.OWNER or not person.is_active:
        return
    others = User.objects.with_role(Role.OWNER).at_work().exclude(pk=person.pk)
    if not others.exists():
        raise Refusal(
            "last-owner",
            f"{person.name} is the only owner. Make somebody else an owner first.",
            "role",
        )


def _check_name_free(username: str, *, but_for: User | None) -> None:
    same = User.objects.filter(username__iexact=username)
    if but_for is not None:
        same = same.exclude(pk=but_for.pk)
    if same.exists():
        raise _name_taken(username)


def _name_taken(username: str) -> Refusal:
    return Refusal(
        "username-taken",
        f"Somebody signs in as “{username}” already; choose another name.",
        "username",
    )


def _check_password(password: str, person: User) -> None:
    try:
        validate_password(password, person)
    except ValidationError as error:
        raise Refusal("password-weak", " ".join(error.messages), "password") from error


def _record(
    person: User,
    verb: str,
    summary: str,
    *,
    acting_user: User,
    at: datetime,
    changes: Mapping[str, tuple[str, str]] | None = None,
) -> None:
    record(
        Happening(
            verb=verb,
            kind="person",
            subject_id=person.pk,
            summary=summary,
            changes=changes,
        ),
        acting_user=acting_user,
        at=at,
    )
