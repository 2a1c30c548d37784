"""Where people are signed in: noted as they come, ended when somebody says so."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from allauth.usersessions.models import UserSession
from django.db import transaction

from shop.actions.history import Happening, record
from shop.domain.devices import device_words
from shop.domain.refusals import NotFound
from shop.domain.roles import Act
from shop.models import User

_LONGEST_AGENT = 200


@dataclass(frozen=True, slots=True)
class Visit:
    """What a request tells of where it came from."""

    session_key: str
    address: str
    user_agent: str


def note_seen(*, visit: Visit, acting_user: User, at: datetime) -> None:
    """Remember that somebody was here, and from where; no history, nothing was done."""
    seen = {
        "user": acting_user,
        "ip": visit.address,
        "user_agent": visit.user_agent[:_LONGEST_AGENT],
        "last_seen_at": at,
    }
    UserSession.objects.update_or_create(
        session_key=visit.session_key,
        defaults=seen,
        create_defaults={**seen, "created_at": at},
    )


@transaction.atomic
def end_session(*, session_id: int, acting_user: User, at: datetime) -> User:
    """Sign somebody out on one device: oneself, or anybody for the owner.

    Raises
    ------
    NotFound
        No such session, or somebody else's.
    """
    row = UserSession.objects.select_related("user").filter(pk=session_id).first()
    if row is None or not _may_end(row.user, acting_user):
        # Whose it is, is nobody else's business: the answer is the same.
        raise NotFound("session-not-found", "There is no such session any more.")
    person: User = row.user
    _end([row], person, acting_user=acting_user, at=at)
    return person


@transaction.atomic
def end_other_sessions(
    *, person_id: int, kept_key: str, acting_user: User, at: datetime
) -> int:
    """Sign somebody out everywhere but in the kept session; say how many ended.

    Raises
    ------
    NotFound
        No such person.
    """
    person = User.objects.filter(pk=person_id).first()
    if person is None:
        raise NotFound("person-not-found", "There is no such person.")
    if person.pk != acting_user.pk:
        acting_user.demand(Act.KEEP_PEOPLE)
    rows = list(
        UserSession.objects.filter(user_id=person.pk).exclude(session_key=kept_key)
    )
    if rows:
        _end(rows, person, acting_user=acting_user, at=at)
    return len(rows)


def _may_end(person: User, acting_user: User) -> bool:
    return person.pk == acting_user.pk or acting_user.may(Act.KEEP_PEOPLE)


def _end(
    rows: Iterable[UserSession], person: User, *, acting_user: User, at: datetime
) -> None:
    ended = []
    for row in rows:
        ended.append(device_words(row.user_agent))
        row.end()
    record(
        Happening(
            verb="session.ended",
            kind="person",
            subject_id=person.pk,
            summary=f"{person.name} signed out on: {', '.join(sorted(ended))}",
        ),
        acting_user=acting_user,
        at=at,
    )
