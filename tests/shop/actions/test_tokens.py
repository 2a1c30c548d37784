"""Tokens let a program act for somebody, until they are given back."""

import pytest
from rest_framework.authtoken.models import Token

from shop.actions.tokens import give_back_token, issue_token
from shop.models import HistoryEntry
from tests.builders import MORNING, UserFactory

pytestmark = pytest.mark.django_db


def test_one_token_each_however_often_it_is_asked_for() -> None:
    mo, other = UserFactory(), UserFactory()
    first = issue_token(acting_user=mo, at=MORNING)
    assert issue_token(acting_user=mo, at=MORNING) == first
    assert issue_token(acting_user=other, at=MORNING) != first
    assert HistoryEntry.objects.filter(verb="token.issued").count() == 2


def test_a_token_given_back_is_gone_and_the_next_one_is_new() -> None:
    mo = UserFactory()
    first = issue_token(acting_user=mo, at=MORNING)
    give_back_token(acting_user=mo, at=MORNING)
    give_back_token(acting_user=mo, at=MORNING)
    assert not Token.objects.exists()
    assert HistoryEntry.objects.filter(verb="token.given_back").count() == 1
    assert issue_token(acting_user=mo, at=MORNING) != first
