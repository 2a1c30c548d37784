"""Who may open which address: every route has its row, and the answer obeys it."""

from collections.abc import Iterator
from dataclasses import dataclass
from http import HTTPStatus
from typing import Any

import pytest
from django.conf import settings
from django.db import transaction
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse
from django.utils import timezone

from diagnostics.demo.filling import fill
from shop.domain.roles import Act, Role, may
from shop.models import HistoryEntry, User
from tests.rules.doors import DOORS, Door, Doors
from tests.rules.samples import sample_for

PAGE_METHODS = ("get", "post")
API_METHODS = ("get", "post", "patch", "delete")


@dataclass(frozen=True)
class Route:
    """A named address and the arguments that it takes."""

    name: str
    arguments: tuple[str, ...]


def routes(resolver: URLResolver, spaces: tuple[str, ...] = ()) -> Iterator[Route]:
    """Yield every route below a resolver."""
    for entry in resolver.url_patterns:
        if isinstance(entry, URLResolver):
            inner = (*spaces, entry.namespace) if entry.namespace else spaces
            yield from routes(entry, inner)
        elif isinstance(entry, URLPattern):
            name = entry.name or f"<unnamed {entry.pattern}>"
            arguments = tuple(entry.pattern.regex.groupindex)
            yield Route(":".join((*spaces, name)), arguments)


def without_door(found: list[Route], doors: Doors) -> list[str]:
    """Return the routes that have no row, and the rows that have no route."""
    names = {route.name for route in found}
    return sorted(
        [name for name in names if not _door(name, doors)]
        + [name for name in doors if not name.endswith("*") and name not in names]
    )


def _door(name: str, doors: Doors, *, method: str = "get") -> Door | None:
    patterns = [
        pattern
        for pattern in doors
        if pattern == name
        or (pattern.endswith("*") and name.startswith(pattern.removesuffix("*")))
    ]
    if not patterns:
        return None
    door = doors[max(patterns, key=len)]
    return door[method != "get"] if isinstance(door, tuple) else door


def all_routes() -> list[Route]:
    return list(routes(get_resolver()))


def test_every_route_has_a_row_and_every_row_a_route() -> None:
    assert without_door(all_routes(), DOORS) == []


def test_the_rule_sees_a_route_without_a_row() -> None:
    found = [Route("shop:safe", ()), Route("shop:bikes", ())]
    doors = {"shop:bikes": Act.SEE_SHOP, "shop:gone": Act.SEE_SHOP}
    assert without_door(found, {**doors}) == ["shop:gone", "shop:safe"]


@pytest.mark.django_db
def test_each_role_gets_in_where_its_acts_allow_and_nowhere_else() -> None:
    fill(now=timezone.now())
    # Somebody is signed in elsewhere, so that there is a session to knock at.
    Client().force_login(User.objects.with_role(Role.OWNER).order_by("pk")[0])
    wrong = [
        f"{_who(role)} at {route.name}: {complaint}"
        for role in (None, *Role)
        for route in all_routes()
        for complaint in _knock(role, route)
    ]
    assert wrong == []


def _who(role: Role | None) -> str:
    return role.value if role else "a stranger"


def _knock(role: Role | None, route: Route) -> Iterator[str]:
    if _door(route.name, DOORS) == "not ours":
        return
    arguments = {name: sample_for(route.name, name) for name in route.arguments}
    address = reverse(route.name, kwargs=arguments)
    client = Client(raise_request_exception=False)
    if role is not None:
        client.force_login(User.objects.with_role(role).order_by("pk")[0])
    for method in API_METHODS if address.startswith("/api/") else PAGE_METHODS:
        with transaction.atomic():
            before = HistoryEntry.objects.count()
            answer = getattr(client, method)(address)
            wrote = HistoryEntry.objects.count() != before
            transaction.set_rollback(True)
        if answer.status_code == HTTPStatus.METHOD_NOT_ALLOWED:
            continue
        yield from (
            f"{method} {address} answered {answer.status_code}: {complaint}"
            for complaint in _judge(
                _door(route.name, DOORS, method=method), role, answer, wrote=wrote
            )
        )


def _judge(
    door: Door | None, role: Role | None, answer: Any, *, wrote: bool
) -> Iterator[str]:
    status = answer.status_code
    if status >= HTTPStatus.INTERNAL_SERVER_ERROR:
        yield "a fault of the program"
    if _may_enter(door, role):
        if status in {HTTPStatus.FORBIDDEN, HTTPStatus.UNAUTHORIZED}:
            yield "shut to somebody who may come in"
    elif wrote or not (status >= HTTPStatus.BAD_REQUEST or _is_turned_away(answer)):
        yield "let somebody in who may not come in"


def _may_enter(door: Door | None, role: Role | None) -> bool:
    if role is None or door == "anyone":
        return door == "anyone"
    if isinstance(door, frozenset):
        return any(may(role, act) for act in door)
    return door == "signed in" or (isinstance(door, Act) and may(role, door))


def _is_turned_away(answer: Any) -> bool:
    if answer.status_code in {HTTPStatus.UNAUTHORIZED, HTTPStatus.FORBIDDEN}:
        return True
    goes_to = answer.headers.get("Location", "")
    return bool(
        goes_to.startswith((reverse(settings.LOGIN_URL), reverse("admin:login")))
    )
