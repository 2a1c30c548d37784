from datetime import date

import pytest
from allauth.mfa.models import Authenticator
from django.utils import timezone

from shop.actions.second_steps import demand_second_step, reset_second_step
from shop.domain.refusals import NotAllowed, NotFound, Refusal
from shop.domain.roles import Role
from shop.models import HistoryEntry, SignInRules
from tests.builders import UserFactory
from tests.shop.signed_in_places import give_code

pytestmark = pytest.mark.django_db
DAY = date(2026, 3, 2)


def test_the_owner_names_the_day_and_the_history_keeps_the_old_one() -> None:
    owner = UserFactory(role=Role.OWNER.value)
    demand_second_step(from_day=DAY, acting_user=owner, at=timezone.now())
    demand_second_step(from_day=DAY, acting_user=owner, at=timezone.now())
    demand_second_step(from_day=None, acting_user=owner, at=timezone.now())
    assert SignInRules.objects.get().second_step_from is None
    changes = HistoryEntry.objects.order_by("pk").values_list("changes", flat=True)
    assert [row["second_step_from"] for row in changes] == [
        ["", "2026-03-02"],
        ["2026-03-02", ""],
    ]


@pytest.mark.parametrize("role", [Role.FRONT_DESK, Role.TECHNICIAN, Role.STOREKEEPER])
def test_nobody_else_lowers_the_guard(role: Role) -> None:
    person, owner = UserFactory(role=role.value), UserFactory(role=Role.OWNER.value)
    give_code(owner)
    with pytest.raises(NotAllowed):
        demand_second_step(from_day=None, acting_user=person, at=timezone.now())
    with pytest.raises(NotAllowed):
        reset_second_step(person_id=owner.pk, acting_user=person, at=timezone.now())


def test_a_lost_phone_is_taken_off_by_the_owner() -> None:
    owner, desk = (UserFactory(role=r.value) for r in (Role.OWNER, Role.FRONT_DESK))
    give_code(desk)
    reset_second_step(person_id=desk.pk, acting_user=owner, at=timezone.now())
    assert not Authenticator.objects.filter(user=desk).exists()
    assert HistoryEntry.objects.get().verb == "person.second_step_reset"
    with pytest.raises(Refusal, match="has no second step"):
        reset_second_step(person_id=desk.pk, acting_user=owner, at=timezone.now())
    with pytest.raises(NotFound):
        reset_second_step(person_id=10**9, acting_user=owner, at=timezone.now())


def test_one_s_own_is_not_taken_off_this_way() -> None:
    owner = UserFactory(role=Role.OWNER.value)
    give_code(owner)
    with pytest.raises(Refusal, match="account page"):
        reset_second_step(person_id=owner.pk, acting_user=owner, at=timezone.now())
    assert Authenticator.objects.exists()
