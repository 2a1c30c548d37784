from datetime import date

import pytest

from shop.domain.refusals import NotAllowed
from shop.domain.roles import Role
from shop.domain.second_steps import Demand
from shop.models import SignInRules
from shop.selectors.second_steps import (
    has_second_step,
    second_step_demand,
    second_step_list,
)
from tests.builders import UserFactory
from tests.shop.signed_in_places import give_code

pytestmark = pytest.mark.django_db
DAY = date(2026, 3, 2)


def test_whoever_has_a_second_step_is_asked_no_more() -> None:
    SignInRules.objects.create(second_step_from=DAY)
    owner = UserFactory(role=Role.OWNER.value)
    assert second_step_demand(viewer=owner.as_viewer(), on=DAY) is Demand.NOW
    give_code(owner)
    assert second_step_demand(viewer=owner.as_viewer(), on=DAY) is Demand.NONE


def test_recovery_codes_alone_are_no_second_step() -> None:
    owner = UserFactory(role=Role.OWNER.value)
    code = give_code(owner)
    code.type = "recovery_codes"
    code.save()
    assert not has_second_step(user_id=owner.pk)


def test_the_owner_sees_who_lacks_one() -> None:
    SignInRules.objects.create(second_step_from=DAY)
    owner = UserFactory(role=Role.OWNER.value, first_name="Ada")
    desk = UserFactory(role=Role.FRONT_DESK.value, first_name="Bea")
    UserFactory(first_name="Cid")
    give_code(desk)
    rows = second_step_list(viewer=owner.as_viewer(), on=DAY)
    seen = [(row.name, row.has_second_step, row.is_demanded) for row in rows]
    assert seen == [
        ("Ada", False, True),
        ("Bea", True, True),
        ("Cid", False, False),
    ]
    with pytest.raises(NotAllowed):
        second_step_list(viewer=desk.as_viewer(), on=DAY)
