"""Days away entered and taken back, on the page."""

from datetime import timedelta

import pytest
from django.utils import timezone

from shop.domain.roles import Role
from shop.models import Absence, HistoryEntry
from tests.builders import UserFactory
from tests.shop.web.pages import as_role, error_at, url, words

pytestmark = pytest.mark.django_db


def test_days_away_are_entered_shown_and_taken_back() -> None:
    ada = UserFactory(first_name="Ada")
    desk = as_role(Role.FRONT_DESK)
    first = timezone.localdate() + timedelta(days=7)
    days = {"first_on": str(first), "last_on": str(first + timedelta(days=4))}
    desk.post(url("absence_add", ada.pk), days | {"reason": "Course"})
    assert "Course" in words(desk.get(url("working_hours")))
    desk.post(url("absence_withdraw", Absence.objects.get().pk))
    assert not Absence.objects.exists()
    verbs = HistoryEntry.objects.order_by("pk").values_list("verb", flat=True)
    assert list(verbs) == ["absence.added", "absence.withdrawn"]


def test_a_last_day_before_the_first_is_refused_at_its_field() -> None:
    ada = UserFactory()
    answer = as_role(Role.FRONT_DESK).post(
        url("absence_add", ada.pk), {"first_on": "2026-12-24", "last_on": "2026-12-01"}
    )
    assert answer.status_code == 422
    assert "before the first" in error_at(answer, "last_on")
    assert not Absence.objects.exists()


def test_a_technician_enters_no_days_away() -> None:
    ada = UserFactory()
    client = as_role(Role.TECHNICIAN)
    assert client.get(url("absence_add", ada.pk)).status_code == 403
    assert client.post(url("absence_withdraw", 1)).status_code == 403
