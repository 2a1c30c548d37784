"""Errors as problem documents (RFC 9457, application/problem+json).

Every refusal and every malformed body is answered in one shape: `type`, `title`,
`status`, `detail`, `instance`, and as extension members `code`, `field` (where one
field is to blame) and `errors` (one for each field of a malformed body).
"""

from collections.abc import Iterator, Mapping
from http import HTTPStatus
from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import Http404
from rest_framework import exceptions, serializers
from rest_framework.response import Response
from rest_framework.views import exception_handler as framework_handler

from shop.domain.refusals import (
    ConcurrentChange,
    IllegalMove,
    NotAllowed,
    NotFound,
    Refusal,
)

PROBLEM_JSON = "application/problem+json"

_STATUS: tuple[tuple[type[Refusal], HTTPStatus], ...] = (
    (NotAllowed, HTTPStatus.FORBIDDEN),
    (NotFound, HTTPStatus.NOT_FOUND),
    (IllegalMove, HTTPStatus.CONFLICT),
    (ConcurrentChange, HTTPStatus.CONFLICT),
    (Refusal, HTTPStatus.BAD_REQUEST),
)


class FieldErrorSerializer(serializers.Serializer[Any]):
    """What is wrong with one field of a body or query."""

    field = serializers.CharField()
    code = serializers.CharField()
    message = serializers.CharField()


class ProblemSerializer(serializers.Serializer[Any]):
    """A problem document (RFC 9457)."""

    type = serializers.CharField(help_text="Always about:blank; see code.")
    title = serializers.CharField(help_text="The status in words.")
    status = serializers.IntegerField(min_value=400, max_value=599)
    detail = serializers.CharField(help_text="What is wrong and what mends it.")
    instance = serializers.CharField(help_text="The path that was asked for.")
    code = serializers.CharField(help_text="Stable, for programs.")
    field = serializers.CharField(
        allow_null=True, help_text="The field to blame, where it is one."
    )
    errors = FieldErrorSerializer(  # type: ignore[assignment]  # declared, not set
        many=True, help_text="For a malformed body."
    )


def status_of(refusal: Refusal) -> HTTPStatus:
    """Return the HTTP status that a refusal is answered with."""
    return next(status for kind, status in _STATUS if isinstance(refusal, kind))


def handle_exception(exc: Exception, context: Mapping[str, Any]) -> Response | None:
    """Answer refusals and the framework's own errors as problem documents.

    Anything else is a mistake of ours and stays an error 500.
    """
    path = context["request"].path
    if isinstance(exc, Refusal):
        return _response(
            _problem(status_of(exc), exc.message, exc.code, path=path, field=exc.field)
        )
    if isinstance(exc, Http404):
        exc = exceptions.NotFound()
    elif isinstance(exc, PermissionDenied):
        exc = exceptions.PermissionDenied()
    if not isinstance(exc, exceptions.APIException):
        return None
    plain = framework_handler(exc, dict(context))
    if plain is None:
        return None
    return _response(_framework_problem(exc, path), headers=dict(plain.items()))


def _framework_problem(exc: exceptions.APIException, path: str) -> dict[str, Any]:
    status = HTTPStatus(exc.status_code)
    if isinstance(exc, exceptions.ValidationError):
        errors = list(_field_errors(exc.get_full_details()))
        first = errors[0] if errors else {"field": "", "message": str(exc)}
        where = f"{first['field']}: " if first["field"] else ""
        return _problem(
            status,
            f"{where}{first['message']}",
            "malformed",
            path=path,
            field=first["field"] or None,
            errors=errors,
        )
    code = exc.get_codes()
    return _problem(
        status,
        str(exc.detail),
        code.replace("_", "-") if isinstance(code, str) else "refused",
        path=path,
    )


def _field_errors(details: Any, field: str = "") -> Iterator[dict[str, str]]:
    if isinstance(details, dict) and set(details) == {"message", "code"}:
        yield {
            "field": field,
            "code": str(details["code"]).replace("_", "-"),
            "message": str(details["message"]),
        }
    elif isinstance(details, dict):
        for name, inner in details.items():
            own = "" if name == "non_field_errors" else str(name)
            yield from _field_errors(inner, ".".join(filter(None, (field, own))))
    elif isinstance(details, list):
        for inner in details:
            yield from _field_errors(inner, field)


def _problem(
    status: HTTPStatus,
    detail: str,
    code: str,
    *,
    path: str,
    field: str | None = None,
    errors: list[dict[str, str]] | None = None,
) -> dict[str, Any]:
    return {
        "type": "about:blank",
        "title": status.phrase,
        "status": status.value,
        "detail": detail,
        "instance": path,
        "code": code,
        "field": field,
        "errors": errors or [],
    }


def _response(
    problem: dict[str, Any], headers: dict[str, str] | None = None
) -> Response:
    kept = {
        name: value
        for name, value in (headers or {}).items()
        if name.lower() in {"www-authenticate", "retry-after", "allow"}
    }
    return Response(
        problem, status=problem["status"], headers=kept, content_type=PROBLEM_JSON
    )
