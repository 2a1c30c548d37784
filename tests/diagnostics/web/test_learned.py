"""The bench page says in one line what the starting likelihoods rest on."""

import pytest
from django.test import Client

from diagnostics.models import Case
from tests.builders import UserFactory
from tests.diagnostics.builders import a_case_with_complaint, a_repaired_case

pytestmark = pytest.mark.django_db


def page_of(case: Case) -> str:
    client = Client()
    client.force_login(
        UserFactory.create(),
        backend="allauth.account.auth_backends.AuthenticationBackend",
    )
    return " ".join(client.get(f"/bench/{case.pk}/").content.decode().split())


def test_a_shop_without_proven_repairs_is_told_it_is_common_practice() -> None:
    page = page_of(a_case_with_complaint())
    assert "common practice; no confirmed repair has been learned from yet" in page


def test_a_shop_with_one_is_told_how_many_were_learned_from() -> None:
    case = a_repaired_case()
    Case.objects.filter(pk=case.pk).update(state="proven")
    page = page_of(case)
    line = 'learned from <span class="num">1</span> confirmed repair of this shop'
    assert line in page
