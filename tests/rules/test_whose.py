"""Own and other: every route that names somebody's row, for every role."""

from collections.abc import Iterator
from http import HTTPStatus
from typing import Any

import pytest
from django.apps import apps
from django.db import transaction
from django.test import Client
from django.urls import reverse

from shop.domain.roles import Act, Role
from shop.models import HistoryEntry, User
from tests.builders import ShopSettingsFactory, UserFactory
from tests.rules.doors import DOORS, Door
from tests.rules.samples import MODELS, WORDS
from tests.rules.test_routes import (
    API_METHODS,
    PAGE_METHODS,
    Route,
    _door,
    _judge,
    _may_enter,
    all_routes,
)
from tests.rules.whose import NOBODYS, ROWS_OF, WHOSE


def personal(routes: list[Route]) -> list[Route]:
    """Return the routes that name a row of somebody's."""
    return [
        route
        for route in routes
        if set(route.arguments) & set(ROWS_OF)
        and route.name not in NOBODYS
        and _door(route.name, DOORS) != "not ours"
    ]


def unsaid(routes: list[Route]) -> list[str]:
    """Return the routes whose door leaves open what is asked for another's row."""
    return [
        route.name
        for route in personal(routes)
        if route.name not in WHOSE
        and any(
            not isinstance(_door(route.name, DOORS, method=method), Act)
            for method in ("get", "post")
        )
    ]


def test_every_route_says_what_it_asks_for_another_s_row() -> None:
    assert unsaid(all_routes()) == []
    assert set(WHOSE) <= {route.name for route in all_routes()}


def test_every_table_of_somebody_s_rows_is_known_here() -> None:
    """A new argument that names a row with a person of its own needs a maker."""
    arguments = {name for route in all_routes() for name in route.arguments}
    lacking = []
    for argument in arguments - set(ROWS_OF) - set(WORDS):
        label = MODELS.get(argument, "shop." + argument.removesuffix("_id"))
        try:
            model = apps.get_model(label.replace("_", ""))
        except LookupError:
            continue
        # Assigned work is not one's own: a work order belongs to the shop.
        if model._meta.model_name != "workorder" and {
            "technician",
            "user",
        } & {f.name for f in model._meta.get_fields()}:
            lacking.append(argument)
    assert lacking == []


def test_the_rule_sees_a_route_that_leaves_it_open() -> None:
    route = Route("shop:labour_void", ("line_id",))
    assert unsaid([route]) == []
    assert personal([Route("shop:bike", ("bike_id",))]) == []


@pytest.mark.django_db
@pytest.mark.parametrize("role", list(Role))
def test_one_s_own_row_and_another_s_are_told_apart(role: Role) -> None:
    ShopSettingsFactory()
    UserFactory(role=Role.OWNER.value)
    wrong = [
        f"{role.value} at {route.name} of {whose}: {complaint}"
        for route in personal(all_routes())
        for whose in ("own", "other")
        for complaint in _try(role, route, whose)
    ]
    assert wrong == []


def _try(role: Role, route: Route, whose: str) -> Iterator[str]:
    is_api = route.name.startswith("api")
    rule = WHOSE.get(route.name)
    for method in API_METHODS if is_api else PAGE_METHODS:
        if rule is not None and method == "get" and not rule.looking_too:
            continue
        asked: Door | None = _door(route.name, DOORS, method=method)
        if rule is not None:
            asked = rule.own if whose == "own" else rule.other
        with transaction.atomic():
            me = UserFactory(role=role.value)
            address = _address(route, me if whose == "own" else _other(role))
            body = rule.body if rule else {}
            answer, wrote = _send(me, method, address, body)
            transaction.set_rollback(True)
        if answer.status_code == HTTPStatus.METHOD_NOT_ALLOWED:
            continue
        yield from _judge(asked, role, answer, wrote=wrote)
        if answer.status_code == HTTPStatus.NOT_FOUND and _may_enter(asked, role):
            yield f"{method} {address}: not found by somebody who may"


def _other(role: Role) -> User:
    return UserFactory(role=role.value)


def _address(route: Route, person: User) -> str:
    arguments = {
        name: ROWS_OF[name](person) if name in ROWS_OF else WORDS[name]
        for name in route.arguments
    }
    return reverse(route.name, kwargs=arguments)


def _send(
    me: User, method: str, address: str, body: dict[str, str]
) -> tuple[Any, bool]:
    client = Client(raise_request_exception=False)
    client.force_login(me)
    before = HistoryEntry.objects.count()
    kind = {"content_type": "application/json"} if address.startswith("/api/") else {}
    answer = getattr(client, method)(address, body, **kind)
    return answer, HistoryEntry.objects.count() != before
