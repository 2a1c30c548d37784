"""Where people are signed in: device, address, since when, last seen."""

from dataclasses import dataclass
from datetime import datetime

from allauth.usersessions.models import UserSession
from django.contrib.sessions.models import Session
from django.db.models import Exists, OuterRef

from shop.domain.devices import device_words
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import User


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionRow:
    """One place where somebody is signed in."""

    id: int
    device: str
    address: str
    since: datetime
    last_seen_at: datetime
    is_this_one: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Sessions:
    """Whose sessions these are, the last used first."""

    person_id: int
    name: str
    is_me: bool
    rows: tuple[SessionRow, ...]


def sessions_of(
    *, person_id: int, viewer: Viewer, at: datetime, current_key: str
) -> Sessions:
    """Return where somebody is signed in: oneself, or anybody for the owner.

    Raises
    ------
    NotFound
        No such person.
    """
    if person_id != viewer.user_id:
        viewer.demand(Act.KEEP_PEOPLE)
    person = User.objects.filter(pk=person_id).first()
    if person is None:
        raise NotFound("person-not-found", "There is no such person.")
    alive = Session.objects.filter(
        session_key=OuterRef("session_key"), expire_date__gt=at
    )
    found = UserSession.objects.filter(Exists(alive), user_id=person_id)
    return Sessions(
        person_id=person.pk,
        name=person.name,
        is_me=person_id == viewer.user_id,
        rows=tuple(
            SessionRow(
                id=row.pk,
                device=device_words(row.user_agent),
                address=row.ip,
                since=row.created_at,
                last_seen_at=row.last_seen_at,
                is_this_one=row.session_key == current_key,
            )
            for row in found.order_by("-last_seen_at", "-pk")
        ),
    )
