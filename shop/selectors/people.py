"""People of the shop."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from shop.domain.refusals import NotFound
from shop.domain.roles import PERMISSIONS, ROLE_LABELS, Act, Role, Viewer
from shop.models import User


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonRow:
    """Somebody of the shop, as the owner sees them."""

    id: int
    username: str
    name: str
    first_name: str
    last_name: str
    email: str
    role: str
    role_label: str
    hourly_rate: Decimal | None
    is_active: bool
    last_login: datetime | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """Somebody to choose from a list."""

    id: int
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Me:
    """Who is signed in, and what their role includes."""

    id: int
    username: str
    name: str
    role: str
    role_label: str
    acts: tuple[str, ...]


def me(*, viewer: Viewer, username: str) -> Me:
    """Return who is signed in."""
    return Me(
        id=viewer.user_id,
        username=username,
        name=viewer.name,
        role=viewer.role.value,
        role_label=ROLE_LABELS[viewer.role],
        acts=tuple(act.value for act in Act if act in PERMISSIONS[viewer.role]),
    )


def people_list(*, viewer: Viewer) -> tuple[PersonRow, ...]:
    """Return everybody, who can sign in first."""
    viewer.demand(Act.KEEP_PEOPLE)
    return tuple(_row(person) for person in User.objects.by_name())


def person_page(*, person_id: int, viewer: Viewer) -> PersonRow:
    """Return one person.

    Raises
    ------
    NotFound
        No such person.
    """
    viewer.demand(Act.KEEP_PEOPLE)
    person = User.objects.filter(pk=person_id).first()
    if person is None:
        raise NotFound("person-not-found", "There is no such person.")
    return _row(person)


def technicians(*, viewer: Viewer) -> tuple[Choice, ...]:
    """Return who can be put on a work order or book hours."""
    viewer.demand(Act.SEE_SHOP)
    roles = [role for role in Role if Act.BOOK_LABOUR in PERMISSIONS[role]]
    return tuple(
        Choice(id=person.pk, name=person.name)
        for person in User.objects.with_role(*roles).at_work().by_name()
    )


def _row(person: User) -> PersonRow:
    return PersonRow(
        id=person.pk,
        username=person.username,
        name=person.name,
        first_name=person.first_name,
        last_name=person.last_name,
        email=person.email,
        role=person.role,
        role_label=ROLE_LABELS[Role(person.role)],
        hourly_rate=person.hourly_rate,
        is_active=person.is_active,
        last_login=person.last_login,
    )
