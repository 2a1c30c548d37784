"""How the bench's API answers: dataclasses out, keys of taps in."""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from drf_spectacular.utils import OpenApiParameter, OpenApiResponse
from rest_framework import serializers, status
from rest_framework.request import Request
from rest_framework.response import Response

from diagnostics.api.bodies import KEY_HEADER
from diagnostics.api.shapes import shape
from diagnostics.models import Finding
from diagnostics.selectors.cases import CasePage, case_page
from shop.api.problems import PROBLEM_JSON, ProblemSerializer
from shop.domain.roles import Viewer

KEY_PARAMETER = OpenApiParameter(
    KEY_HEADER,
    str,
    OpenApiParameter.HEADER,
    description="Names this entry: the same one sent twice is taken once.",
)


class FileProblemSerializer(serializers.Serializer[Any]):
    """One thing wrong in a harness file."""

    line = serializers.IntegerField(allow_null=True, help_text="Counted from 1.")
    where = serializers.CharField()
    what = serializers.CharField()
    mend = serializers.CharField()


class FileProblemsSerializer(ProblemSerializer):
    """A problem document that lists everything wrong in a harness file."""

    problems = FileProblemSerializer(many=True)


@dataclass(frozen=True, kw_only=True)
class Taken:
    """The findings just taken, and the case as it stands after them."""

    finding_ids: tuple[int, ...]
    case: CasePage


def problem(*statuses: int) -> dict[tuple[int, str], Any]:
    """Return what the description says of refusals with these statuses."""
    return {
        (number, PROBLEM_JSON): OpenApiResponse(ProblemSerializer, "Refused.")
        for number in statuses
    }


def many(rows: Sequence[object], kind: type) -> Response:
    """Answer with a list of dataclasses."""
    return Response(shape(kind)(rows, many=True).data)


def one(row: object) -> Response:
    """Answer with one dataclass."""
    return Response(_data(row, type(row)))


def created(row: object) -> Response:
    """Answer with one dataclass that is new."""
    return Response(_data(row, type(row)), status=status.HTTP_201_CREATED)


def taken(findings: Sequence[Finding], *, viewer: Viewer) -> Response:
    """Answer with the findings just taken and what follows from them."""
    page = case_page(case_id=findings[0].case_id, viewer=viewer)
    return created(Taken(finding_ids=tuple(row.pk for row in findings), case=page))


def key_of(request: Request) -> str:
    """Return the key of the entry; one without is an entry of its own."""
    return request.headers.get(KEY_HEADER) or uuid.uuid4().hex


def _data(row: object, kind: type) -> Any:
    return shape(kind)(row).data
