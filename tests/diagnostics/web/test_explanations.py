"""The page that says why."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.builders import FrontDeskFactory
from tests.diagnostics.builders import a_case_with_complaint
from tests.diagnostics.web.test_bench import client_of

pytestmark = pytest.mark.django_db


def test_each_verdict_leads_to_its_why_and_back() -> None:
    case = a_case_with_complaint()
    client = client_of(FrontDeskFactory.create())
    bench = client.get(f"/bench/{case.pk}/").content.decode()
    assert f'href="/bench/{case.pk}/why/wire:5/"' in bench
    assert f'href="/bench/{case.pk}/why/fuse:main-fuse/"' in bench
    page = client.get(f"/bench/{case.pk}/why/wire:5/").content.decode()
    assert f'href="/bench/{case.pk}/#finding-1"' in page
    assert "suspect" in page


def test_it_asks_little_of_the_database() -> None:
    case = a_case_with_complaint()
    client = client_of()
    client.get(f"/bench/{case.pk}/why/wire:5/")
    with CaptureQueriesContext(connection) as queries:
        client.get(f"/bench/{case.pk}/why/wire:5/")
    assert len(queries) <= 10


@pytest.mark.parametrize("segment", ["wire:99", "x", "plug:tail-plug.1'--", "é"])
def test_an_unknown_segment_is_not_found(segment: str) -> None:
    case = a_case_with_complaint()
    answer = client_of().get(f"/bench/{case.pk}/why/{segment}/")
    assert answer.status_code == 404
