"""What the tests of pages share: somebody who is signed in, and how to read a page."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from html import unescape

import pytest
from django.db import connection
from django.http import HttpResponseBase
from django.template.backends.django import Template
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from shop.domain.roles import Role
from shop.models import User
from tests.builders import UserFactory

BACKEND = "allauth.account.auth_backends.AuthenticationBackend"
_TAG = re.compile(r"<[^>]+>")


def signed_in(user: User) -> Client:
    client = Client()
    client.force_login(user, backend=BACKEND)
    return client


def as_role(role: Role) -> Client:
    return signed_in(UserFactory.create(role=role.value))


def url(name: str, *args: object) -> str:
    return reverse(f"shop:{name}", args=args)


def html(response: HttpResponseBase) -> str:
    return bytes(getattr(response, "content", b"")).decode()


def words(response: HttpResponseBase) -> str:
    """Return what a reader of the page sees, in one line."""
    return " ".join(unescape(_TAG.sub(" ", html(response))).split())


def error_at(response: HttpResponseBase, field: str) -> str:
    """Return the error that stands at a field, and check that the field names it."""
    page = html(response)
    found = re.search(rf'id="id_{field}_error">(.*?)</ul>', page, re.DOTALL)
    if found is None:
        return ""
    assert f"id_{field}_error" in page.replace(found.group(0), "")
    assert f'href="#id_{field}' in page
    return " ".join(unescape(_TAG.sub(" ", found.group(1))).split())


@contextmanager
def no_query_while_rendering(patch: pytest.MonkeyPatch) -> Iterator[None]:
    """Fail where a template asks the database."""
    render = Template.render

    def watched(self: Template, *args: object, **kwargs: object) -> object:
        with CaptureQueriesContext(connection) as asked:
            page = render(self, *args, **kwargs)  # type: ignore[arg-type]  # passed on
        assert [query["sql"] for query in asked] == []
        return page

    with patch.context() as inside:
        inside.setattr(Template, "render", watched)
        yield


def queries_of(client: Client, address: str) -> int:
    """Return how many queries a page takes."""
    with CaptureQueriesContext(connection) as asked:
        response = client.get(address)
    assert response.status_code == 200
    return len(asked)
