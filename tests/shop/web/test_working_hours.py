"""Hours at the bench and days away, on the page."""

from decimal import Decimal

import pytest

from shop.domain.roles import Role
from shop.models import WorkingHours
from tests.builders import UserFactory
from tests.shop.web.pages import as_role, error_at, url, words

pytestmark = pytest.mark.django_db

WEEK = {
    "monday": "7,5",
    "tuesday": "6",
    "wednesday": "6",
    "thursday": "6",
    "friday": "4",
    "saturday": "0",
    "sunday": "0",
}


def shown(values: dict[str, str]) -> dict[str, str]:
    """Return what a browser sends: what was typed, and what was shown before."""
    usual = dict.fromkeys(WEEK, "6.00") | {"saturday": "0.00", "sunday": "0.00"}
    return values | {f"initial-{day}": hours for day, hours in usual.items()}


def test_the_usual_week_is_shown_until_another_is_written_down() -> None:
    ada = UserFactory(first_name="Ada")
    desk = as_role(Role.FRONT_DESK)
    assert "it is the usual one" in words(desk.get(url("working_hours")))
    desk.post(url("working_hours_edit", ada.pk), shown(WEEK))
    row = WorkingHours.objects.get(technician=ada)
    assert (row.monday, row.friday) == (Decimal("7.5"), Decimal(4))
    said = words(desk.get(url("working_hours")))
    assert "7.5 h" in said
    assert "29.5 h" in said


def test_a_day_of_25_hours_is_refused_at_its_field_and_nothing_is_lost() -> None:
    ada = UserFactory()
    desk = as_role(Role.FRONT_DESK)
    answer = desk.post(
        url("working_hours_edit", ada.pk), shown(WEEK | {"tuesday": "25"})
    )
    assert answer.status_code == 422
    assert "0 to 24" in error_at(answer, "tuesday")
    assert 'value="7,5"' in answer.content.decode()
    assert not WorkingHours.objects.exists()


def test_a_technician_reads_the_hours_and_does_not_change_them() -> None:
    ada = UserFactory()
    client = as_role(Role.TECHNICIAN)
    page = client.get(url("working_hours"))
    assert page.status_code == 200
    assert "Change the hours" not in words(page)
    assert client.get(url("working_hours_edit", ada.pk)).status_code == 403


def test_nobody_has_no_hours() -> None:
    desk = as_role(Role.FRONT_DESK)
    assert desk.get(url("working_hours_edit", 40_400)).status_code == 404
