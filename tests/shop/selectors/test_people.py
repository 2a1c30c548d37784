"""People: who is signed in, who can be chosen, and the owner's list."""

import pytest

from shop.domain.refusals import NotAllowed, NotFound
from shop.selectors.people import me, people_list, person_page, technicians
from tests.builders import (
    FrontDeskFactory,
    OwnerFactory,
    StorekeeperFactory,
    UserFactory,
)

pytestmark = pytest.mark.django_db


def test_me_says_what_the_role_includes() -> None:
    keeper = StorekeeperFactory(username="ola", first_name="Ola")
    found = me(viewer=keeper.as_viewer(), username=keeper.username)
    assert (found.name, found.role_label) == ("Ola", "Storekeeper")
    assert {"see_shop", "keep_parts_list", "book_parts"} <= set(found.acts)
    assert "keep_customers" not in found.acts


def test_only_who_works_at_the_bench_can_be_put_on_a_work_order() -> None:
    owner, mo = OwnerFactory(first_name="A"), UserFactory(first_name="Mo")
    FrontDeskFactory()
    UserFactory(is_active=False)
    found = technicians(viewer=FrontDeskFactory().as_viewer())
    assert [row.id for row in found] == [owner.pk, mo.pk]


def test_the_owner_sees_everybody_and_nobody_else_does() -> None:
    owner = OwnerFactory(first_name="B")
    gone = UserFactory(first_name="A", is_active=False)
    found = people_list(viewer=owner.as_viewer())
    assert [row.id for row in found] == [owner.pk, gone.pk]
    assert person_page(person_id=gone.pk, viewer=owner.as_viewer()).is_active is False
    with pytest.raises(NotAllowed):
        people_list(viewer=FrontDeskFactory().as_viewer())
    with pytest.raises(NotFound):
        person_page(person_id=404, viewer=owner.as_viewer())
