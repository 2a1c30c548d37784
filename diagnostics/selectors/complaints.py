"""The complaint form: every consumer, in the rig in which it should work."""

from dataclasses import dataclass
from typing import Any

import harness
from diagnostics.cautions import cautions_for
from diagnostics.engine import loom_of
from diagnostics.models import Case
from diagnostics.words import capital
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer, demand


@dataclass(frozen=True, kw_only=True)
class ConsumerLine:
    """One consumer to be tried."""

    device: str
    name: str
    rig: dict[str, Any]


@dataclass(frozen=True, kw_only=True)
class ComplaintGroup:
    """The consumers that are tried with the switches set alike."""

    rig_words: str
    cautions: tuple[str, ...]
    consumers: tuple[ConsumerLine, ...]


def complaint_groups(*, case_id: int, viewer: Viewer) -> tuple[ComplaintGroup, ...]:
    """Return the consumers of a case's drawing, grouped by rig.

    Raises
    ------
    NotFound
        There is no such case.
    """
    demand(viewer.role, Act.SEE_SHOP)
    case = Case.objects.with_surroundings().filter(pk=case_id).first()
    if case is None:
        raise NotFound("case-not-found", "There is no such case.", "case_id")
    h = loom_of(case.harness_file.sha256)
    groups: dict[str, list[dict[str, Any]]] = {}
    for said in harness.complaints(h):
        groups.setdefault(said["rig_words"], []).append(said)
    return tuple(_group(words, items, h.earth) for words, items in groups.items())


def _group(words: str, items: list[dict[str, Any]], earth: str) -> ComplaintGroup:
    return ComplaintGroup(
        rig_words=capital(words),
        cautions=cautions_for(tool="eye", rig=items[0]["rig"], device="", earth=earth),
        consumers=tuple(
            ConsumerLine(
                device=item["device"],
                name=capital(item["name"]),
                rig=dict(item["rig"]),
            )
            for item in items
        ),
    )
