from datetime import timedelta

import pytest
from django.contrib.sessions.models import Session
from django.utils import timezone

from shop.domain.refusals import NotAllowed, NotFound
from shop.domain.roles import Role
from shop.models import User
from shop.selectors.sessions import Sessions, sessions_of
from tests.builders import UserFactory
from tests.shop.signed_in_places import session_of, sign_in_from

pytestmark = pytest.mark.django_db


def seen_by(viewer: User, person: User, key: str = "") -> Sessions:
    return sessions_of(
        person_id=person.pk,
        viewer=viewer.as_viewer(),
        at=timezone.now(),
        current_key=key,
    )


def test_one_sees_device_address_and_which_is_this_one() -> None:
    petra = UserFactory()
    here = sign_in_from(petra, address="192.0.2.8")
    sign_in_from(petra, address="192.0.2.9")
    found = seen_by(petra, petra, here.session.session_key or "")
    assert {row.address for row in found.rows} == {"192.0.2.8", "192.0.2.9"}
    assert {row.device for row in found.rows} == {"Firefox on Linux"}
    assert [row.address for row in found.rows if row.is_this_one] == ["192.0.2.8"]


def test_a_session_that_ran_out_is_not_shown() -> None:
    petra = UserFactory()
    client = sign_in_from(petra)
    past = timezone.now() - timedelta(seconds=1)
    Session.objects.filter(pk=session_of(client).session_key).update(expire_date=past)
    assert seen_by(petra, petra).rows == ()


def test_the_owner_sees_everybody_s_and_the_others_only_their_own() -> None:
    petra, owner = UserFactory(), UserFactory(role=Role.OWNER.value)
    sign_in_from(petra)
    assert len(seen_by(owner, petra).rows) == 1
    with pytest.raises(NotAllowed):
        seen_by(UserFactory(), petra)
    with pytest.raises(NotFound):
        sessions_of(
            person_id=10**9,
            viewer=owner.as_viewer(),
            at=timezone.now(),
            current_key="",
        )
