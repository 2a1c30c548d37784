"""Why a segment has its verdict, over HTTP."""

import pytest
from rest_framework.test import APIClient

from tests.builders import UserFactory
from tests.diagnostics.builders import a_case_with_complaint

pytestmark = pytest.mark.django_db


def test_the_chain_is_sentences_with_findings_and_segments() -> None:
    case = a_case_with_complaint()
    client = APIClient()
    client.force_authenticate(UserFactory.create())
    found = client.get(f"/api/cases/{case.pk}/segments/wire:5/why")
    assert found.status_code == 200, found.data
    assert (found.data["segment"], found.data["verdict"]) == ("wire:5", "suspect")
    steps = found.data["steps"]
    assert all(step["sentence"].endswith(".") for step in steps)
    assert 1 in {number for step in steps for number in step["findings"]}
    others = {link["segment"] for step in steps for link in step["segments"]}
    assert "wire:5" not in others
    missing = client.get(f"/api/cases/{case.pk}/segments/wire:99/why")
    assert missing.status_code == 404
