"""Labels for strip tags: what is printed on each, and the code that a phone reads.

Sheets are the common plain sizes of label paper (common practice, no source): 24 to
an A4 sheet, 30 to a Letter sheet; the roll is 62 mm wide and cut at 29 mm.
"""

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

import segno

from shop.domain.paper import PaperKind


class LabelSize(StrEnum):
    """On what labels are printed."""

    A4 = "A4"
    LETTER = "Letter"
    ROLL = "roll-62x29"


LABEL_SIZE_LABELS: dict[LabelSize, str] = {
    LabelSize.A4: "A4 sheet, 24 labels of 70 x 37 mm",
    LabelSize.LETTER: "Letter sheet, 30 labels of 2 5/8 x 1 in",
    LabelSize.ROLL: "Label roll, one of 62 x 29 mm after the other",
}
LABELS_A_SHEET = {LabelSize.A4: 24, LabelSize.LETTER: 30, LabelSize.ROLL: 1}
SHEET_SIZES = {
    LabelSize.A4: "210mm 297mm",
    LabelSize.LETTER: "8.5in 11in",
    LabelSize.ROLL: "62mm 29mm",
}
SHEET = "paper/strip_tag_labels.html"
STYLE = "strip_tag_labels.css"
TITLE = "Strip tag labels"


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """What stands on one label; nobody is named, since labels lie about."""

    label: str
    name: str
    place: str
    pieces: int
    fate: str
    bike: str
    order: str
    url: str


def label_content(
    labels: Sequence[Label], *, size: LabelSize, work_order_id: int, language: str
) -> dict[str, Any]:
    """Return the labels as JSON values, sheet by sheet."""
    many = LABELS_A_SHEET[size]
    plain = [
        {
            "label": one.label,
            "name": one.name,
            "place": one.place,
            "pieces": one.pieces,
            "fate": one.fate,
            "bike": one.bike,
            "order": one.order,
            "url": one.url,
        }
        for one in labels
    ]
    return {
        "kind": PaperKind.STRIP_TAG_LABELS.value,
        "title": TITLE,
        "language": language,
        "work_order_id": work_order_id,
        "page_size": size.value,
        "sheets": [plain[at : at + many] for at in range(0, len(plain), many)],
    }


def label_digest(content: dict[str, Any], *, sheet_version: str) -> str:
    """Return the name of these labels on these sheets, 64 hexadecimal digits."""
    named = json.dumps(
        {"content": content, "sheet": sheet_version}, sort_keys=True, ensure_ascii=False
    )
    return hashlib.sha256(named.encode()).hexdigest()


def code_image(url: str) -> str:
    """Return the QR code of an address as a data: URL.

    Error correction M (ISO/IEC 18004): about 15 % of it may be smeared.
    """
    code = segno.make(url, error="m", micro=False, boost_error=False)
    return code.svg_data_uri(border=4, scale=1, omitsize=True, dark="#000")


def label_context(content: dict[str, Any]) -> dict[str, Any]:
    """Return what the sheet's template prints."""
    return {
        "content": content,
        "sheets": [
            [{**one, "image": code_image(one["url"])} for one in sheet]
            for sheet in content["sheets"]
        ],
    }
