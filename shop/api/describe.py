"""How an operation of the API is described: its answers and its problems."""

from typing import Any

from drf_spectacular.utils import OpenApiResponse

from shop.api.problems import PROBLEM_JSON, ProblemSerializer
from shop.api.shapes import page_shape, shape

_WORDS = {
    400: "The body or query is malformed, or the shop refuses it.",
    401: "Nobody has signed in.",
    403: "The role does not include this.",
    404: "There is no such thing.",
    409: "It stands otherwise by now, or the life cycle has no such move.",
}


def answers(kind: type, *, of: tuple[int, ...], status: int = 200) -> Any:
    """Return the responses of an operation: one dataclass, or a problem of these."""
    return {status: shape(kind), **problems(of)}


def answers_page(kind: type) -> Any:
    """Return the responses of an operation that answers with a list's window."""
    return {200: page_shape(kind), **problems((400, 401, 403))}


def answers_page_of(kind: type) -> Any:
    """Return the same for the list of one thing, which may not be there."""
    return {200: page_shape(kind), **problems((400, 401, 403, 404))}


def answers_many(kind: type) -> Any:
    """Return the responses of an operation that answers with a short whole list."""
    return {200: shape(kind)(many=True), **problems((401, 403))}


def no_content(of: tuple[int, ...]) -> Any:
    """Return the responses of an operation that answers with nothing."""
    return {204: None, **problems(of)}


def problems(statuses: tuple[int, ...]) -> dict[Any, Any]:
    """Return the problem documents that an operation may answer with."""
    return {
        (status, PROBLEM_JSON): OpenApiResponse(ProblemSerializer, _WORDS[status])
        for status in statuses
    }


READING = (401, 403, 404)
WRITING = (400, 401, 403, 404)
MOVING = (400, 401, 403, 404, 409)
