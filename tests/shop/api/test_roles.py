"""The first routes, for every role and for nobody: the role table decides.

That no route is forgotten is held by tests/rules/test_routes.py, for all of them;
here each request is whole, so that who may is answered what they asked for.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

import pytest
from django.urls import URLPattern
from rest_framework.test import APIClient

from shop.api.urls import urlpatterns
from shop.domain.roles import Act, Role, may
from shop.models import User
from tests.builders import (
    CustomerFactory,
    LabourLineFactory,
    PartFactory,
    PartLineFactory,
    TaxRateFactory,
    UserFactory,
    WorkOrderFactory,
)
from tests.shop.api.clients import client_of

pytestmark = pytest.mark.django_db


@dataclass(frozen=True)
class Call:
    """A request that works for whoever may make it."""

    method: str
    path: str
    act: Act | None  # None: everybody who has signed in
    body: dict[str, Any] | None = None


def calls(person: User) -> dict[str, list[Call]]:
    """Return, by the name of the route, requests on rows that are there."""
    order = WorkOrderFactory(
        state="awaiting_approval", estimate_amount=Decimal("100.00")
    )
    hours = LabourLineFactory(work_order=order, technician=person)
    pieces = PartLineFactory(work_order=order)
    part, tax, buyer = PartFactory(), TaxRateFactory(), CustomerFactory()
    own = f"work-orders/{order.pk}"
    bike = f"bikes/{order.bike_id}"
    heron = {"maker": "Tarnfell", "model": "Heron", "owner_id": buyer.pk}
    holder = {"number": "N1", "description": "d", "price": "1", "tax_rate_id": tax.pk}
    return {
        "api-me": [Call("get", "me", None)],
        "api-own-token": [Call("delete", "me/token", None)],
        "api-board": [Call("get", "board", Act.SEE_SHOP)],
        "api-customers": [
            Call("get", "customers", Act.SEE_CUSTOMERS),
            Call("post", "customers", Act.KEEP_CUSTOMERS, {"name": "Ada Fenn"}),
        ],
        "api-customer": [
            Call("get", f"customers/{buyer.pk}", Act.SEE_CUSTOMERS),
            Call("patch", f"customers/{buyer.pk}", Act.KEEP_CUSTOMERS, {"phone": "1"}),
        ],
        "api-bikes": [
            Call("get", "bikes", Act.SEE_SHOP),
            Call("post", "bikes", Act.KEEP_BIKES, heron),
        ],
        "api-bike": [
            Call("get", bike, Act.SEE_SHOP),
            Call("patch", bike, Act.KEEP_BIKES, {"colour": "black"}),
        ],
        "api-bike-owner": [
            Call("put", f"{bike}/owner", Act.KEEP_CUSTOMERS, {"owner_id": buyer.pk})
        ],
        "api-work-orders": [
            Call("get", "work-orders", Act.SEE_SHOP),
            Call(
                "post",
                "work-orders",
                Act.BOOK_IN,
                {"bike_id": order.bike_id, "complaint": "No spark."},
            ),
        ],
        "api-work-order": [
            Call("get", own, Act.SEE_SHOP),
            Call("patch", own, Act.EDIT_WORK_ORDER, {"work_done": "Looked at it."}),
        ],
        "api-history": [Call("get", f"{own}/history", Act.SEE_SHOP)],
        "api-work-order-labour": [
            Call(
                "post",
                f"{own}/labour-lines",
                Act.BOOK_LABOUR,
                {
                    "kind": "repair",
                    "minutes": 10,
                    "description": "New bulb",
                    "reason": "from the job card",
                },
            )
        ],
        "api-work-order-part-lines": [
            Call(
                "post",
                f"{own}/part-lines",
                Act.BOOK_PARTS,
                {"part_id": part.pk, "quantity": "1"},
            )
        ],
        "api-labour-line": [Call("get", f"labour-lines/{hours.pk}", Act.SEE_SHOP)],
        "api-labour-void": [
            Call(
                "post",
                f"labour-lines/{hours.pk}/void",
                Act.BOOK_LABOUR,
                {"reason": "twice"},
            )
        ],
        "api-part-line": [Call("get", f"part-lines/{pieces.pk}", Act.SEE_SHOP)],
        "api-part-line-void": [
            Call(
                "post",
                f"part-lines/{pieces.pk}/void",
                Act.BOOK_PARTS,
                {"reason": "back"},
            )
        ],
        "api-parts": [
            Call("get", "parts", Act.SEE_SHOP),
            Call("post", "parts", Act.KEEP_PARTS_LIST, holder),
        ],
        "api-part": [
            Call("get", f"parts/{part.pk}", Act.SEE_SHOP),
            Call("patch", f"parts/{part.pk}", Act.KEEP_PARTS_LIST, {"bin": "C4"}),
        ],
        "api-tax-rates": [Call("get", "tax-rates", Act.SEE_SHOP)],
        # Last: it moves the work order that the others stand on.
        "api-events": [
            Call(
                "post",
                f"{own}/events",
                Act.RECORD_APPROVAL,
                {"event": "approve", "approved_by_name": "Ada Fenn"},
            )
        ],
    }


def in_turn(table: dict[str, list[Call]]) -> Iterable[Call]:
    """Return the calls, giving the token back last of all."""
    found = [call for row in table.values() for call in row]
    return sorted(found, key=lambda call: call.method == "delete")


def send(client: APIClient, call: Call) -> Any:
    method: Callable[..., Any] = getattr(client, call.method)
    return method(f"/api/{call.path}", call.body, format="json")


@pytest.mark.parametrize("role", list(Role))
def test_a_role_is_answered_what_it_includes_and_refused_the_rest(role: Role) -> None:
    person = UserFactory(role=role.value)
    client = client_of(person)
    for call in in_turn(calls(person)):
        answer = send(client, call)
        if call.act is None or may(role, call.act):
            assert answer.status_code in {200, 201, 204}, (call, answer.content)
        else:
            assert answer.status_code == 403, (call, answer.content)
            assert answer["Content-Type"] == "application/problem+json"
            assert answer.json()["code"] == "not-allowed"


def test_nobody_is_answered_nothing() -> None:
    for call in in_turn(calls(UserFactory())):
        answer = send(APIClient(), call)
        assert answer.status_code == 401, call
        assert answer["WWW-Authenticate"] == "Token"
        assert answer.json()["code"] == "not-authenticated"


def test_a_closed_account_is_nobody() -> None:
    person = UserFactory()
    client = client_of(person)
    person.is_active = False
    person.save()
    assert client.get("/api/me").status_code == 401


def test_every_row_here_is_a_route() -> None:
    routes = {
        pattern.name for pattern in urlpatterns if isinstance(pattern, URLPattern)
    }
    assert {*calls(UserFactory())} <= routes
