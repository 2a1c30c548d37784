"""From a report's content to the HTML and CSS that the PDF engine gets."""

import hashlib
from collections.abc import Mapping
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path
from typing import Any

from django.conf import settings
from django.template.loader import render_to_string

from shop.domain.paper import PaperKind
from shop.paper import labels
from shop.paper.amounts import minute

SHEET = "paper/work_order_report.html"
PAGE_SIZES = {"A4": "210mm 297mm", "Letter": "8.5in 11in"}


def _folder() -> Path:
    return Path(settings.BASE_DIR) / "templates" / "paper"


@lru_cache(maxsize=1)
def sheet_version() -> str:
    """Return a name for the sheets as they are: it changes with every edit."""
    sheets = sorted(path for path in _folder().iterdir() if path.is_file())
    name = hashlib.sha256()
    for path in sheets:
        name.update(path.name.encode() + b"\0" + path.read_bytes() + b"\0")
    return name.hexdigest()[:16]


def stylesheet(page_size: str) -> str:
    """Return the print style for this size of sheet."""
    style = (_folder() / "paper.css").read_text(encoding="utf-8")
    return f"@page {{ size: {PAGE_SIZES[page_size]} }}\n{style}"


def style_of(content: Mapping[str, Any]) -> str:
    """Return the print style of a paper of any kind."""
    if content["kind"] != PaperKind.STRIP_TAG_LABELS.value:
        return stylesheet(content["page_size"])
    size = labels.LabelSize(content["page_size"])
    style = (_folder() / labels.STYLE).read_text(encoding="utf-8")
    return f"@page {{ size: {labels.SHEET_SIZES[size]} }}\n{style}"


def page(content: Mapping[str, Any], *, asked_at: datetime) -> str:
    """Return the paper's HTML; printing it reads nothing from the database."""
    if content["kind"] == PaperKind.STRIP_TAG_LABELS.value:
        context = labels.label_context(dict(content))
        return render_to_string(labels.SHEET, {**context, "created": _stamp(asked_at)})
    as_of = minute(asked_at, locale=content["locale"], time_zone=content["time_zone"])
    return render_to_string(
        SHEET, {"report": content, "as_of": as_of, "created": _stamp(asked_at)}
    )


def _stamp(asked_at: datetime) -> str:
    return asked_at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
