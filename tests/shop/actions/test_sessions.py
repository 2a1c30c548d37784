import pytest
from allauth.usersessions.models import UserSession
from django.utils import timezone

from shop.actions.sessions import (
    Visit,
    end_other_sessions,
    end_session,
    note_seen,
)
from shop.domain.refusals import NotAllowed, NotFound
from shop.domain.roles import Role
from shop.models import HistoryEntry
from tests.builders import UserFactory
from tests.shop.signed_in_places import session_of, sign_in_from
from tests.shop.web.pages import url

pytestmark = pytest.mark.django_db


def test_an_ended_session_is_signed_out_and_the_history_says_by_whom() -> None:
    petra, owner = UserFactory(), UserFactory(role=Role.OWNER.value)
    client = sign_in_from(petra)
    assert client.get(url("bikes")).status_code == 200
    row = session_of(client)
    end_session(session_id=row.pk, acting_user=owner, at=timezone.now())
    assert client.get(url("bikes")).status_code == 302
    entry = HistoryEntry.objects.get(verb="session.ended")
    assert (entry.actor, entry.subject_id) == (owner, petra.pk)
    assert "Firefox on Linux" in entry.summary


def test_nobody_but_the_owner_ends_another_s_and_is_not_told_whose_it_is() -> None:
    client = sign_in_from(UserFactory())
    row = session_of(client)
    with pytest.raises(NotFound):
        end_session(session_id=row.pk, acting_user=UserFactory(), at=timezone.now())
    assert client.get(url("bikes")).status_code == 200


def test_everywhere_else_leaves_only_here() -> None:
    petra = UserFactory()
    here, there, yonder = (sign_in_from(petra) for _ in range(3))
    count = end_other_sessions(
        person_id=petra.pk,
        kept_key=here.session.session_key or "",
        acting_user=petra,
        at=timezone.now(),
    )
    assert count == 2
    assert here.get(url("bikes")).status_code == 200
    assert there.get(url("bikes")).status_code == 302
    assert yonder.get(url("bikes")).status_code == 302


def test_signing_out_others_is_the_owner_s() -> None:
    petra = UserFactory()
    sign_in_from(petra)
    with pytest.raises(NotAllowed):
        end_other_sessions(
            person_id=petra.pk,
            kept_key="",
            acting_user=UserFactory(),
            at=timezone.now(),
        )


def test_a_visit_is_noted_once_and_then_kept_up_to_date() -> None:
    petra = UserFactory()
    first, later = timezone.now(), timezone.now()
    for at, address in ((first, "192.0.2.1"), (later, "192.0.2.2")):
        visit = Visit(session_key="k" * 32, address=address, user_agent="x" * 999)
        note_seen(visit=visit, acting_user=petra, at=at)
    row = UserSession.objects.get(session_key="k" * 32)
    assert (row.created_at, row.last_seen_at) == (first, later)
    assert row.ip == "192.0.2.2"
    assert not HistoryEntry.objects.exists()
