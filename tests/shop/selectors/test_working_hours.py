"""Weeks at the bench as they are read."""

from decimal import Decimal

import pytest

from shop.domain.refusals import NotFound
from shop.models import WorkingHours
from shop.selectors.working_hours import working_hours_list, working_hours_of
from tests.builders import FrontDeskFactory, OwnerFactory, UserFactory
from tests.shop.plan_room import FIRST

pytestmark = pytest.mark.django_db


def test_technicians_are_listed_and_whoever_else_has_a_week() -> None:
    ada, owner, desk = UserFactory(), OwnerFactory(), FrontDeskFactory()
    WorkingHours.objects.create(technician=owner, monday=Decimal(2))
    rows = working_hours_list(viewer=desk.as_viewer(), today=FIRST)
    assert {row.technician_id: row.is_usual for row in rows} == {
        ada.pk: True,
        owner.pk: False,
    }
    assert {row.total for row in rows} == {Decimal(30), Decimal(26)}


def test_an_account_that_is_closed_has_no_week() -> None:
    gone = UserFactory(is_active=False)
    with pytest.raises(NotFound):
        working_hours_of(technician_id=gone.pk, viewer=FrontDeskFactory().as_viewer())
