"""A job over the API alone: from the counter to the road."""

import pytest
from pytest_django import DjangoAssertNumQueries
from rest_framework.test import APIClient

from shop.models import CheckItem, WorkOrder
from tests.builders import (
    FrontDeskFactory,
    OwnerFactory,
    PartFactory,
    ShopSettingsFactory,
    StorekeeperFactory,
    UserFactory,
    WorkOrderFactory,
)
from tests.shop.api.clients import client_of
from tests.shop.final_check import pass_final_check

pytestmark = pytest.mark.django_db


def test_a_whole_job_without_a_browser() -> None:
    ShopSettingsFactory()
    desk, bench = client_of(FrontDeskFactory()), client_of(UserFactory())
    store = client_of(StorekeeperFactory())
    part = PartFactory()

    ada = desk.post("/api/customers", {"name": "Ada Fenn"}, format="json").json()
    bike = desk.post(
        "/api/bikes",
        {
            "owner_id": ada["id"],
            "maker": "Tarnfell",
            "model": "Heron 350",
            "system_volts": 6,
            "earth": "positive",
        },
        format="json",
    ).json()
    order = desk.post(
        "/api/work-orders",
        {"bike_id": bike["id"], "complaint": "Lights go out when it is hot."},
        format="json",
    ).json()
    where = f"/api/work-orders/{order['order']['id']}"
    events = f"{where}/events"

    def move(client: APIClient, **body: object) -> str:
        answer = client.post(events, body, format="json")
        assert answer.status_code == 200, answer.content
        state: str = answer.json()["order"]["state"]
        return state

    assert move(bench, event="start_estimate") == "estimating"
    assert move(bench, event="send_estimate", estimate_amount="120.00") == (
        "awaiting_approval"
    )
    assert move(desk, event="approve", approved_by_name="Ada Fenn") == "on_the_bench"
    hours = bench.post(
        f"{where}/labour-lines",
        {
            "kind": "fault_finding",
            "minutes": 50,
            "description": "Found it",
            "reason": "from the job card",
        },
        format="json",
    ).json()
    assert hours["net"] == "45.00"
    line = store.post(
        f"{where}/part-lines", {"part_id": part.pk, "quantity": "2"}, format="json"
    ).json()
    assert line["net"] == "1.70"
    assert move(bench, event="finish_work", seen_state="on_the_bench") == "final_check"
    pass_final_check(WorkOrder.objects.get(pk=order["order"]["id"]))
    assert move(bench, event="sign_off") == "ready"
    assert move(desk, event="hand_over") == "closed"

    page = desk.get(where).json()
    assert page["totals"]["gross"] == "56.04"  # (45.00 + 1.70) x 1.2
    assert page["moves"] == []
    told = desk.get(f"{where}/history?limit=3").json()
    assert told["count"] == 9 + 1 + CheckItem.objects.count()
    assert told["results"][0]["new_state_label"] == "Closed"
    assert "offset=3" in told["next"]


def test_a_page_of_the_list_says_where_the_others_are() -> None:
    WorkOrderFactory.create_batch(5)
    client = client_of(OwnerFactory())
    first = client.get("/api/work-orders?limit=2").json()
    assert first["previous"] is None
    second = client.get(first["next"]).json()
    third = client.get(second["next"]).json()
    assert third["next"] is None
    assert client.get(second["previous"]).json() == first
    seen = [row["id"] for page in (first, second, third) for row in page["results"]]
    assert len(set(seen)) == 5


def test_the_list_is_narrowed_by_the_query() -> None:
    wanted = WorkOrderFactory(state="waiting", complaint="No spark.")
    WorkOrderFactory(state="closed", complaint="No spark.")
    client = client_of(OwnerFactory())
    for query in ("state=waiting", "open=true&q=spark", f"bike={wanted.bike_id}"):
        found = client.get(f"/api/work-orders?{query}").json()
        assert [row["id"] for row in found["results"]] == [wanted.pk], query


def test_a_move_from_a_state_no_longer_true_is_a_conflict() -> None:
    order = WorkOrderFactory(state="on_the_bench")
    answer = client_of(OwnerFactory()).post(
        f"/api/work-orders/{order.pk}/events",
        {"event": "finish_work", "seen_state": "waiting"},
        format="json",
    )
    assert (answer.status_code, answer.json()["code"]) == (409, "moved-already")


def test_a_long_list_costs_no_more_queries_than_a_short_one(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    client = client_of(OwnerFactory())
    for size in (1, 10):
        WorkOrderFactory.create_batch(size)
        # the token with its person, the second step, the count, the rows
        with django_assert_num_queries(4):
            client.get("/api/work-orders")
