"""Labels ordered for strip tags, on sheets or on a roll."""

from collections.abc import Sequence
from datetime import datetime

from django.conf import settings
from django.urls import reverse

from shop.actions.paper import order_paper
from shop.domain.entries import clean_member
from shop.domain.paper import PaperKind
from shop.domain.refusals import NotFound, Refusal
from shop.domain.roles import Act
from shop.models import PaperRequest, User
from shop.paper.current import Draft
from shop.paper.labels import Label, LabelSize, label_content, label_digest
from shop.paper.sheets import sheet_version
from shop.paper.work_order import LANGUAGE
from shop.selectors.strip_tags import StripTagRow, strip_tags_of


def request_labels(
    *,
    work_order_id: int,
    tag_ids: Sequence[int],
    size: str,
    acting_user: User,
    at: datetime,
) -> PaperRequest:
    """Order labels for some tags of a work order; no tag named means all of them.

    Raises
    ------
    NotFound
        One of the tags is not of this work order.
    Refusal
        There is nothing to print, or no such size of label.
    """
    acting_user.demand(Act.KEEP_TAGS)
    chosen = clean_member(LabelSize, size, field="size", name="The size")
    found = strip_tags_of(work_order_id=work_order_id, viewer=acting_user.as_viewer())
    rows = [row for row in found.rows if not tag_ids or row.id in set(tag_ids)]
    if tag_ids and len(rows) != len(set(tag_ids)):
        raise NotFound(
            "tag-not-found", "One of the tags is not of this work order.", "tag_ids"
        )
    if not rows:
        raise Refusal(
            "nothing-to-print", "Nothing is tagged yet, so there is no label to print."
        )
    content = label_content(
        [_label(row) for row in rows],
        size=chosen,
        work_order_id=work_order_id,
        language=LANGUAGE,
    )
    draft = Draft(
        found.work_order_label,
        content,
        label_digest(content, sheet_version=sheet_version()),
    )
    return order_paper(
        draft=draft,
        kind=PaperKind.STRIP_TAG_LABELS,
        work_order_id=work_order_id,
        told=f"Labels of {len(rows)} strip tags requested",
        acting_user=acting_user,
        at=at,
    )


def _label(row: StripTagRow) -> Label:
    path = reverse("shop:strip_tag_scan", args=[row.code])
    return Label(
        label=row.label,
        name=row.name,
        place=row.place,
        pieces=row.pieces,
        fate=row.fate_label,
        bike=row.bike_name,
        order=row.work_order_label,
        url=f"{settings.PUBLIC_URL}{path}",
    )
