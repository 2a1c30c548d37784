"""A report as plain frozen data, and the digest that says whether it is the same.

The digest is taken over the whole content and the sheets it is printed on: the
same facts give the same paper, changed facts or a changed sheet a new one.
"""

import hashlib
import json
from dataclasses import asdict, dataclass
from typing import Any

from shop.domain.paper import PaperKind
from shop.domain.refusals import Refusal
from shop.paper.blocks import Section, count_rows

MAX_ROWS = 2000
"""Beyond this the layout takes tens of seconds and hundreds of megabytes."""


@dataclass(frozen=True, slots=True)
class Letterhead:
    """Who issues the paper."""

    name: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Addressee:
    """Who the paper is for."""

    name: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Report:
    """Everything that is printed, word by word, except when it was asked for."""

    kind: PaperKind
    work_order_id: int
    number: str
    title: str
    state: str
    language: str
    locale: str
    time_zone: str
    page_size: str
    shop: Letterhead
    customer: Addressee
    sections: tuple[Section, ...]


def content(report: Report) -> dict[str, Any]:
    """Return the report as JSON values.

    Raises
    ------
    Refusal
        There is more to print than one paper holds.
    """
    rows = count_rows(report.sections)
    if rows > MAX_ROWS:
        raise Refusal(
            "paper-too-long",
            f"This report would have {rows} rows; one paper holds {MAX_ROWS}. "
            "Split the work over two work orders, or void findings entered twice.",
        )
    plain: dict[str, Any] = json.loads(_canonical(asdict(report)))
    return plain


def digest(content: dict[str, Any], *, sheet_version: str) -> str:
    """Return the name of this content on these sheets, 64 hexadecimal digits.

    Examples
    --------
    >>> digest({"a": 1, "b": 2}, sheet_version="1") == digest(
    ...     {"b": 2, "a": 1}, sheet_version="1"
    ... )
    True
    """
    named = _canonical({"content": content, "sheet": sheet_version})
    return hashlib.sha256(named.encode()).hexdigest()


def _canonical(value: dict[str, Any]) -> str:
    return json.dumps(
        value,
        sort_keys=True,
        separators=(",", ":"),
        ensure_ascii=False,
        allow_nan=False,
    )
