"""People: one role each."""

import pytest

from shop.domain.refusals import NotAllowed
from shop.domain.roles import Act, Role
from shop.models import User
from tests.builders import StorekeeperFactory

pytestmark = pytest.mark.django_db


def test_who_is_made_at_the_command_line_is_the_owner() -> None:
    owner = User.objects.create_superuser("first", "first@example.org", "x")
    assert owner.role == Role.OWNER
    assert owner.is_staff


def test_a_new_person_may_little_until_told_otherwise() -> None:
    assert User.objects.create_user("new").role == Role.TECHNICIAN


def test_a_closed_account_may_nothing() -> None:
    keeper = StorekeeperFactory()
    assert keeper.may(Act.KEEP_PARTS_LIST)
    keeper.demand(Act.KEEP_PARTS_LIST)
    keeper.is_active = False
    assert not keeper.may(Act.KEEP_PARTS_LIST)
    with pytest.raises(NotAllowed):
        keeper.demand(Act.KEEP_PARTS_LIST)


def test_a_viewer_is_the_person_and_no_more() -> None:
    keeper = StorekeeperFactory(first_name="Ola", last_name="Brandt")
    viewer = keeper.as_viewer()
    assert (viewer.user_id, viewer.name, viewer.role) == (
        keeper.pk,
        "Ola Brandt",
        Role.STOREKEEPER,
    )
