"""The first pages against every role, and what they say to who may not come in.

That no page is forgotten is held by tests/rules/test_routes.py, for all of them.
"""

from collections.abc import Callable
from dataclasses import dataclass

import pytest
from django.test import Client

from shop import seams
from shop.domain.roles import Act, Role, may
from shop.models import WorkOrder
from shop.web.urls import urlpatterns
from tests.builders import (
    LabourLineFactory,
    PartFactory,
    PartLineFactory,
    ShopSettingsFactory,
    UserFactory,
    WorkOrderFactory,
)
from tests.shop.web.pages import as_role, url

pytestmark = pytest.mark.django_db

# What a page asks of a role; None is for everybody who is signed in.
BY_GET: dict[str, Act | None] = {
    "today": Act.SEE_SHOP,
    "account": None,
    "customers": Act.SEE_CUSTOMERS,
    "customer": Act.SEE_CUSTOMERS,
    "customer_add": Act.KEEP_CUSTOMERS,
    "customer_edit": Act.KEEP_CUSTOMERS,
    "bikes": Act.SEE_SHOP,
    "bike": Act.SEE_SHOP,
    "bike_add": Act.KEEP_BIKES,
    "bike_edit": Act.KEEP_BIKES,
    "bike_pass_on": Act.KEEP_CUSTOMERS,
    "work_orders": Act.SEE_SHOP,
    "work_order": Act.SEE_SHOP,
    "work_order_new": Act.BOOK_IN,
    "work_order_book_in": Act.BOOK_IN,
    "work_order_edit": Act.EDIT_WORK_ORDER,
    "work_order_move": Act.CALL_OFF,
    "labour_add": None,  # see BOOKING
    "labour_void": None,  # see BOOKING
    "part_line_add": Act.BOOK_PARTS,
    "part_line_void": Act.BOOK_PARTS,
    "parts": Act.SEE_SHOP,
    "part": Act.SEE_SHOP,
    "part_add": Act.KEEP_PARTS_LIST,
    "part_edit": Act.KEEP_PARTS_LIST,
    "people": Act.KEEP_PEOPLE,
    "person": Act.KEEP_PEOPLE,
    "person_add": Act.KEEP_PEOPLE,
    "person_edit": Act.KEEP_PEOPLE,
    "person_password": Act.KEEP_PEOPLE,
    "settings": Act.KEEP_SHOP_SETTINGS,
    "permissions": Act.KEEP_PEOPLE,
    "tax_rates": Act.KEEP_SHOP_SETTINGS,
}
BY_POST = {"theme", "person_close", "person_reopen", "tax_rate_retire"}
BOOKING = {Act.BOOK_LABOUR, Act.BOOK_LABOUR_FOR_OTHERS}


@dataclass(frozen=True)
class Rows:
    """One row of everything that an address can name."""

    order: WorkOrder
    labour: int
    part_line: int
    part: int
    person: int


@pytest.fixture
def rows() -> Rows:
    ShopSettingsFactory.create()
    order = WorkOrderFactory.create()
    line = PartLineFactory.create(work_order=order)
    return Rows(
        order=order,
        labour=LabourLineFactory.create(work_order=order).pk,
        part_line=line.pk,
        part=PartFactory.create().pk,
        person=UserFactory.create().pk,
    )


@pytest.fixture(autouse=True)
def _alone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(seams, "registry", seams.Registry())
    monkeypatch.setattr("shop.selectors.work_orders.registry", seams.registry)


def address(name: str, rows: Rows) -> str:
    order = rows.order
    by_noun: dict[str, Callable[[], tuple[object, ...]]] = {
        "customer": lambda: (order.customer_id,),
        "customer_edit": lambda: (order.customer_id,),
        "bike": lambda: (order.bike_id,),
        "bike_edit": lambda: (order.bike_id,),
        "bike_pass_on": lambda: (order.bike_id,),
        "work_order_book_in": lambda: (order.bike_id,),
        "work_order": lambda: (order.pk,),
        "work_order_edit": lambda: (order.pk,),
        "work_order_move": lambda: (order.pk, "call_off"),
        "labour_add": lambda: (order.pk,),
        "part_line_add": lambda: (order.pk,),
        "labour_void": lambda: (rows.labour,),
        "part_line_void": lambda: (rows.part_line,),
        "part": lambda: (rows.part,),
        "part_edit": lambda: (rows.part,),
        "person": lambda: (rows.person,),
        "person_edit": lambda: (rows.person,),
        "person_password": lambda: (rows.person,),
        "person_close": lambda: (rows.person,),
        "person_reopen": lambda: (rows.person,),
        "tax_rate_retire": lambda: (1,),
    }
    args = by_noun.get(name, tuple)()
    query = f"?owner={order.customer_id}" if name == "bike_add" else ""
    return url(name, *args) + query


def is_allowed(name: str, role: Role) -> bool:
    if name in {"labour_add", "labour_void"}:
        return any(may(role, act) for act in BOOKING)
    act = BY_GET[name]
    return act is None or may(role, act)


def test_every_row_of_the_table_is_a_page() -> None:
    names = {pattern.name for pattern in urlpatterns}
    assert {*BY_GET, *BY_POST} <= names


@pytest.mark.parametrize("role", list(Role))
def test_a_role_sees_the_pages_it_may_and_no_other(role: Role, rows: Rows) -> None:
    client = as_role(role)
    found = {name: client.get(address(name, rows)).status_code for name in BY_GET}
    assert found == {name: 200 if is_allowed(name, role) else 403 for name in BY_GET}


def test_nobody_sees_anything_without_signing_in(rows: Rows) -> None:
    client = Client()
    for name in (*BY_GET, *BY_POST - {"theme"}):
        answer = client.get(address(name, rows))
        assert answer.status_code == 302, name
        assert answer.headers["Location"].startswith("/account/login/?next="), name


def test_what_changes_something_is_not_done_by_a_link(rows: Rows) -> None:
    client = as_role(Role.OWNER)
    for name in BY_POST:
        assert client.get(address(name, rows)).status_code == 405, name


def test_a_row_that_is_not_there_is_a_page_that_says_so(rows: Rows) -> None:
    client = as_role(Role.OWNER)
    for missing in (987_654_321, 10**25):
        for name in ("customer", "bike", "work_order", "part", "person"):
            answer = client.get(url(name, missing))
            assert answer.status_code == 404, name
            assert "There is no such" in answer.content.decode(), name


@pytest.mark.parametrize("role", [Role.TECHNICIAN, Role.STOREKEEPER, Role.FRONT_DESK])
def test_only_the_owner_closes_accounts(role: Role, rows: Rows) -> None:
    client = as_role(role)
    answer = client.post(url("person_close", rows.person))
    assert answer.status_code == 403
    assert "Nothing was changed." in answer.content.decode()
