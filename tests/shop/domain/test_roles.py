"""Who may do what."""

import pytest

from shop.domain.refusals import NotAllowed
from shop.domain.roles import PERMISSIONS, ROLE_LABELS, Act, Role, Viewer, demand, may


def test_the_owner_may_do_everything() -> None:
    assert all(may(Role.OWNER, act) for act in Act)


def test_everybody_sees_the_shop() -> None:
    assert all(may(role, Act.SEE_SHOP) for role in Role)


@pytest.mark.parametrize(
    ("act", "roles"),
    [
        (Act.KEEP_PEOPLE, {Role.OWNER}),
        (Act.KEEP_SHOP_SETTINGS, {Role.OWNER}),
        (Act.RECORD_APPROVAL, {Role.OWNER, Role.FRONT_DESK}),
        (Act.HAND_OVER, {Role.OWNER, Role.FRONT_DESK}),
        (Act.FIND_FAULTS, {Role.OWNER, Role.TECHNICIAN}),
        (Act.DO_FINAL_CHECK, {Role.OWNER, Role.TECHNICIAN}),
        (Act.KEEP_PARTS_LIST, {Role.OWNER, Role.STOREKEEPER}),
        (Act.SEE_CUSTOMERS, {Role.OWNER, Role.FRONT_DESK, Role.TECHNICIAN}),
    ],
)
def test_an_act_belongs_to_these_roles_and_no_others(
    act: Act, roles: set[Role]
) -> None:
    assert {role for role in Role if may(role, act)} == roles


def test_a_refusal_names_who_may() -> None:
    viewer = Viewer(user_id=1, name="Sam", role=Role.STOREKEEPER)
    with pytest.raises(NotAllowed, match="owner, front desk") as refused:
        viewer.demand(Act.KEEP_CUSTOMERS)
    assert refused.value.code == "not-allowed"
    assert not viewer.may(Act.KEEP_CUSTOMERS)
    demand(Role.STOREKEEPER, Act.KEEP_PARTS_LIST)


def test_every_role_stands_in_the_table_with_its_words() -> None:
    assert set(PERMISSIONS) == set(ROLE_LABELS) == set(Role)
