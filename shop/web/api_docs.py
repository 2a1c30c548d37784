"""The page that shows the API: every address, what it takes and what it answers.

It reads the same OpenAPI description that machines read at `api/schema`, and draws it
with the shop's own templates: no script, and readable on a phone and on paper.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe
from drf_spectacular.generators import SchemaGenerator

_VERBS = ("get", "post", "put", "patch", "delete")
_DEEPEST = 3

Node = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class FieldRow:
    """One parameter or one field of a body; `depth` says how far inside it lies."""

    name: str
    kind: str
    is_required: bool
    description: str
    depth: int = 0


@dataclass(frozen=True, slots=True)
class AnswerRow:
    """One answer: its status, and what comes with it."""

    status: str
    kind: str
    description: str


@dataclass(frozen=True, slots=True)
class Operation:
    """One thing that can be asked of the API."""

    verb: str
    address: str
    summary: str
    description: str
    parameters: tuple[FieldRow, ...]
    body_kind: str
    body: tuple[FieldRow, ...]
    answers: tuple[AnswerRow, ...]


@dataclass(frozen=True, slots=True)
class Group:
    """The operations on one noun."""

    name: str
    operations: tuple[Operation, ...]


@require_safe
def page(request: HttpRequest) -> HttpResponse:
    """Show the API's description."""
    return render(request, "shop/api_docs/page.html", {"groups": described()})


@cache
def described() -> tuple[Group, ...]:
    """Return the operations by noun; they change only with the code."""
    generator = SchemaGenerator()  # type: ignore[no-untyped-call]  # untyped package
    schema: Node = generator.get_schema(request=None, public=True)  # type: ignore[no-untyped-call]  # untyped package
    return groups_of(schema)


def groups_of(schema: Node) -> tuple[Group, ...]:
    """Return the operations of an OpenAPI description, grouped by their first tag."""
    found: dict[str, list[Operation]] = {}
    for address, item in schema["paths"].items():
        for verb in _VERBS:
            if verb in item:
                tag = next(iter(item[verb].get("tags", [])), "other")
                operation = _operation(verb, address, item[verb], schema)
                found.setdefault(tag, []).append(operation)
    return tuple(Group(name, tuple(rows)) for name, rows in found.items())


def _operation(verb: str, address: str, node: Node, schema: Node) -> Operation:
    first, _, rest = str(node.get("description", "")).partition("\n")
    body = _content(node.get("requestBody", {}))
    return Operation(
        verb=verb.upper(),
        address=address,
        summary=str(node.get("summary") or first),
        description=str(node.get("description", "")) if node.get("summary") else rest,
        parameters=tuple(
            FieldRow(
                name=row["name"],
                kind=_kind(row.get("schema", {}), schema),
                is_required=row.get("required", False),
                description=str(row.get("description", "")),
            )
            for row in node.get("parameters", [])
        ),
        body_kind=_kind(body, schema) if body else "",
        body=tuple(_fields(body, schema)),
        answers=tuple(
            AnswerRow(
                status=str(status),
                kind=_kind(_content(answer), schema) if _content(answer) else "",
                description=str(answer.get("description", "")),
            )
            for status, answer in node.get("responses", {}).items()
        ),
    )


def _content(node: Node) -> Node:
    content = node.get("content", {})
    first: Node = next(iter(content.values()), {})
    found: Node = first.get("schema", {})
    return found


def _resolved(node: Node, schema: Node) -> Node:
    if len(node.get("allOf", ())) == 1:
        node = node["allOf"][0]
    name = str(node.get("$ref", "")).rpartition("/")[2]
    found: Node = schema["components"]["schemas"][name] if name else node
    return found


def _fields(node: Node, schema: Node, depth: int = 0) -> Iterator[FieldRow]:
    whole = _resolved(node, schema)
    if whole.get("type") == "array":
        whole = _resolved(whole["items"], schema)
    for name, inner in whole.get("properties", {}).items():
        yield FieldRow(
            name=name,
            kind=_kind(inner, schema),
            is_required=name in whole.get("required", ()),
            description=str(_resolved(inner, schema).get("description", "")),
            depth=depth,
        )
        if depth < _DEEPEST:
            yield from _fields(inner, schema, depth + 1)


def _kind(node: Node, schema: Node) -> str:
    """Return the type in a few words: a list of text; one of new, used."""
    whole = _resolved(node, schema)
    if "enum" in whole:
        return "one of " + ", ".join(str(value) for value in whole["enum"])
    if "oneOf" in whole:
        return " or ".join(_kind(inner, schema) for inner in whole["oneOf"])
    kind = str(whole.get("type", "anything"))
    if kind == "array":
        return f"list of {_kind(whole.get('items', {}), schema)}"
    name = str(whole.get("format") or {"string": "text"}.get(kind, kind))
    return f"{name} or null" if whole.get("nullable") or node.get("nullable") else name
