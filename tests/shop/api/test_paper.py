from pathlib import Path

import pytest
from django.urls import reverse
from pytest_django import Settings
from rest_framework.test import APIClient

from shop.models import PaperRequest, User, WorkOrder
from tests.builders import StorekeeperFactory, UserFactory
from tests.shop.paper_room import build_now, order_with_work

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _drawer(settings: Settings, tmp_path: Path) -> None:
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def order() -> WorkOrder:
    return order_with_work()


def client_of(user: User) -> APIClient:
    client = APIClient()
    client.force_authenticate(user)
    return client


@pytest.fixture
def bench(order: WorkOrder) -> APIClient:
    return client_of(UserFactory.create())


def of_order(order: WorkOrder) -> str:
    return reverse("api-work-order-paper", args=[order.pk])


def test_a_report_is_asked_for_watched_and_downloaded(
    bench: APIClient, order: WorkOrder
) -> None:
    asked = bench.post(of_order(order))
    assert asked.status_code == 202
    assert (asked.data["state"], asked.data["step"], asked.data["steps"]) == (
        "queued",
        0,
        4,
    )
    way = reverse("api-paper", args=[asked.data["id"]])
    assert bench.get(way).data["is_under_way"] is True
    build_now()
    ready = bench.get(way).data
    assert (ready["state"], ready["is_ready"]) == ("ready", True)
    file = bench.get(reverse("api-paper-file", args=[ready["id"]]))
    assert file.status_code == 200
    assert file["Content-Type"] == "application/pdf"
    assert file["Cache-Control"] == "private, no-store"
    assert file.content.startswith(b"%PDF-1.7")
    again = bench.post(of_order(order))
    assert (again.status_code, again.data["id"]) == (200, ready["id"])


def test_a_program_that_accepts_pdf_alone_gets_it(
    bench: APIClient, order: WorkOrder
) -> None:
    asked = bench.post(of_order(order))
    build_now()
    way = reverse("api-paper-file", args=[asked.data["id"]])
    assert bench.get(way, headers={"Accept": "application/pdf"}).status_code == 200


def test_the_latest_papers_of_an_order_are_listed(
    bench: APIClient, order: WorkOrder
) -> None:
    asked = bench.post(of_order(order))
    listed = bench.get(of_order(order)).data
    assert [row["id"] for row in listed["rows"]] == [asked.data["id"]]
    assert listed["may_request"] is True


def test_what_failed_is_tried_again_once(bench: APIClient, order: WorkOrder) -> None:
    asked = bench.post(of_order(order))
    way = reverse("api-paper-retry", args=[asked.data["id"]])
    early = bench.post(way)
    assert (early.status_code, early.data["code"]) == (409, "not-failed")
    PaperRequest.objects.update(state="failed", failure_reason="No fonts.")
    again = bench.post(way)
    assert (again.status_code, again.data["state"]) == (202, "queued")


def test_a_paper_that_is_not_ready_has_no_file(
    bench: APIClient, order: WorkOrder
) -> None:
    asked = bench.post(of_order(order))
    answer = bench.get(reverse("api-paper-file", args=[asked.data["id"]]))
    assert answer.status_code == 404
    assert answer["Content-Type"] == "application/problem+json"
    assert answer.json()["code"] == "paper-not-found"


def test_roles_are_held(bench: APIClient, order: WorkOrder) -> None:
    paper_id = bench.post(of_order(order)).data["id"]
    build_now()
    ways = [
        of_order(order),
        reverse("api-paper", args=[paper_id]),
        reverse("api-paper-file", args=[paper_id]),
    ]
    keeper, nobody = client_of(StorekeeperFactory.create()), APIClient()
    for way in ways:
        assert keeper.get(way).status_code == 403, way
        assert nobody.get(way).status_code in {401, 403}, way
    assert keeper.post(of_order(order)).status_code == 403
    assert nobody.post(of_order(order)).status_code in {401, 403}


def test_what_is_not_there_answers_404(bench: APIClient) -> None:
    for name in ("api-work-order-paper", "api-paper", "api-paper-file"):
        assert bench.get(reverse(name, args=[404])).status_code == 404
    for name in ("api-work-order-paper", "api-paper-retry"):
        assert bench.post(reverse(name, args=[404])).status_code == 404
