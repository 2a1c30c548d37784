"""Whatever goes wrong is told as a problem document, and changes nothing."""

import json
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from rest_framework.test import APIClient

from shop.api.problems import status_of
from shop.domain.refusals import (
    ConcurrentChange,
    IllegalMove,
    NotAllowed,
    NotFound,
    Refusal,
)
from shop.models import Bike, Customer, HistoryEntry, Part, WorkOrder
from tests.builders import (
    BikeFactory,
    LabourLineFactory,
    OwnerFactory,
    PartFactory,
    WorkOrderFactory,
)
from tests.shop.api.clients import client_of

pytestmark = pytest.mark.django_db
MEMBERS = {
    "type",
    "title",
    "status",
    "detail",
    "instance",
    "code",
    "field",
    "errors",
}  # X22 (pub S63): RFC 9457 3.1, and our extension members

WRITES = [
    ("post", "customers"),
    ("patch", "customers/{customer}"),
    ("post", "bikes"),
    ("patch", "bikes/{bike}"),
    ("put", "bikes/{bike}/owner"),
    ("post", "work-orders"),
    ("patch", "work-orders/{order}"),
    ("post", "work-orders/{order}/events"),
    ("post", "work-orders/{order}/labour-lines"),
    ("post", "work-orders/{order}/part-lines"),
    ("post", "labour-lines/{hours}/void"),
    ("post", "parts"),
    ("patch", "parts/{part}"),
    ("post", "token"),
]
FIELDS = [
    "name",
    "email",
    "owner_id",
    "maker",
    "model",
    "year",
    "earth",
    "system_volts",
    "bike_id",
    "complaint",
    "promised_on",
    "technician_id",
    "approved_amount",
    "event",
    "seen_state",
    "reason",
    "estimate_amount",
    "kind",
    "minutes",
    "description",
    "done_on",
    "hourly_rate",
    "part_id",
    "quantity",
    "number",
    "price",
    "tax_rate_id",
    "condition",
    "unit",
    "is_retired",
    "username",
    "password",
]
scalars = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.floats(allow_nan=False),
    st.text(max_size=20),
    st.sampled_from(["repair", "approve", "used", "2026-03-02", "1e400", "-0", "\x00"]),
)
values = st.recursive(
    scalars,
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.text(max_size=5), inner, max_size=3)
    ),
    max_leaves=6,
)
bodies = st.one_of(st.dictionaries(st.sampled_from(FIELDS), values, max_size=8), values)


def ids() -> dict[str, int]:
    order = WorkOrderFactory(state="on_the_bench")
    return {
        "order": order.pk,
        "bike": order.bike_id,
        "customer": order.customer_id,
        "hours": LabourLineFactory(work_order=order).pk,
        "part": PartFactory().pk,
    }


def assert_problem(answer: Any, status: int) -> dict[str, Any]:
    problem: dict[str, Any] = json.loads(answer.content)
    assert answer.status_code == status, problem
    assert answer["Content-Type"] == "application/problem+json"
    assert set(problem) == MEMBERS
    assert problem["status"] == status
    assert problem["type"] == "about:blank"
    return problem


@pytest.mark.parametrize(
    ("refusal", "status"),
    [
        (Refusal("a", "b"), 400),
        (NotAllowed("a", "b"), 403),
        (NotFound("a", "b"), 404),
        (IllegalMove("a", "b"), 409),
        (ConcurrentChange("a", "b"), 409),
    ],
)
def test_each_kind_of_refusal_has_its_status(refusal: Refusal, status: int) -> None:
    assert status_of(refusal) == status


def test_a_refusal_names_the_field_and_what_mends_it() -> None:
    order = WorkOrderFactory(state="on_the_bench")
    answer = client_of(OwnerFactory()).post(
        f"/api/work-orders/{order.pk}/events", {"event": "wait"}, format="json"
    )
    problem = assert_problem(answer, 409)
    assert (problem["code"], problem["field"]) == ("reason-missing", "reason")
    assert problem["instance"] == f"/api/work-orders/{order.pk}/events"


def test_a_malformed_body_names_every_field() -> None:
    answer = client_of(OwnerFactory()).post(
        "/api/bikes", {"maker": "", "year": "old", "earth": "none"}, format="json"
    )
    problem = assert_problem(answer, 400)
    assert problem["code"] == "malformed"
    assert {row["field"] for row in problem["errors"]} == {
        "maker",
        "model",
        "year",
        "earth",
        "owner_id",
    }


@pytest.mark.parametrize(
    ("body", "content_type", "status"),
    [
        (b"{", "application/json", 400),
        (b"[" * 100_000, "application/json", 400),
        (b"\xff\xfe", "application/json", 400),
        (b"NaN", "application/json", 400),
        (b"1" * 5000, "application/json", 400),
        (b"", "application/json", 400),
        (b"name=Ada", "application/x-www-form-urlencoded", 415),
        (b"<a/>", "text/xml", 415),
    ],
)
def test_a_body_that_cannot_be_read_is_refused(
    body: bytes, content_type: str, status: int
) -> None:
    client = client_of(OwnerFactory())
    send: Any = client.generic  # takes bytes as well as text
    answer = send("POST", "/api/customers", body, content_type=content_type)
    assert_problem(answer, status)
    assert not Customer.objects.exists()


@pytest.mark.parametrize(
    "path", ["nothing", "work-orders/null", "work-orders/1/nothing", "bikes/-1"]
)
@pytest.mark.parametrize("method", ["GET", "POST", "DELETE"])
def test_an_address_that_leads_nowhere_is_a_problem_too(path: str, method: str) -> None:
    answer = client_of(OwnerFactory()).generic(method, f"/api/{path}")
    assert assert_problem(answer, 404)["code"] == "no-such-address"


def test_an_unknown_verb_is_refused_with_those_that_are_known() -> None:
    answer = client_of(OwnerFactory()).delete("/api/customers")
    assert_problem(answer, 405)
    assert "POST" in answer["Allow"]


@pytest.mark.parametrize(("method", "path"), WRITES)
@settings(
    max_examples=25,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(body=bodies)
def test_no_body_breaks_the_server_or_half_saves(
    method: str, path: str, body: object
) -> None:
    known = ids()
    client = APIClient() if path == "token" else client_of(OwnerFactory())
    before = counted()
    text = json.dumps(body)
    answer = client.generic(
        method.upper(),
        f"/api/{path.format(**known)}",
        text,
        content_type="application/json",
    )
    assert answer.status_code < 500, text
    if answer.status_code >= 400:
        assert_problem(answer, answer.status_code)
        assert counted() == before


def counted() -> list[int]:
    tables = (Customer, Bike, WorkOrder, Part, HistoryEntry)
    return [table.objects.count() for table in tables]


@pytest.mark.parametrize(
    "path",
    [
        "customers",
        "bikes",
        "work-orders",
        "parts",
        "work-orders/{order}/history",
    ],
)
@pytest.mark.parametrize(
    ("query", "status"),
    [
        ("limit=99999999999999999999", 200),
        ("offset=99999999999999999999", 200),
        ("limit=" + "9" * 999, 200),
        ("limit=" + "9" * 5000, 400),
        ("limit=0", 400),
        ("limit=-1", 400),
        ("limit=x", 400),
        ("offset=-1", 400),
        ("limit=1&limit=2", 200),
        ("limit=%00", 400),
        ("unknown=1", 200),
    ],
)
def test_no_window_breaks_the_server(path: str, query: str, status: int) -> None:
    where = path.format(order=WorkOrderFactory().pk)
    answer = client_of(OwnerFactory()).get(f"/api/{where}?{query}")
    assert answer.status_code == status, answer.content
    if status == 400:
        assert_problem(answer, 400)


@pytest.mark.parametrize(
    ("path", "status"),
    [
        ("work-orders?state=lost", 400),
        ("work-orders?open=perhaps", 400),
        ("work-orders?bike=99999999999999999999", 200),
        ("work-orders?customer=99999999999999999999", 200),
        ("work-orders?technician=99999999999999999999", 200),
        ("work-orders?q=%00%F0%28%8C", 400),
        ("bikes?owner=99999999999999999999", 200),
        ("parts?condition=mint", 400),
        ("customers?q=" + "a%20" * 400, 200),
        ("customers/99999999999999999999", 404),
        ("bikes/" + "9" * 30, 404),
        ("parts/0", 404),
    ],
)
def test_no_query_breaks_the_server(path: str, status: int) -> None:
    BikeFactory()
    answer = client_of(OwnerFactory()).get(f"/api/{path}")
    assert answer.status_code == status, answer.content
