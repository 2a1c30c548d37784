"""The report of a work order as the facts stand now, with its digest."""

from dataclasses import dataclass
from typing import Any

from django.conf import settings

from shop.paper.blocks import from_seam
from shop.paper.report import content, digest
from shop.paper.sheets import sheet_version
from shop.paper.work_order import work_order_report
from shop.seams import registry
from shop.selectors.reports import report_facts


@dataclass(frozen=True, slots=True)
class Draft:
    """What would be printed now, and the name of exactly that."""

    label: str
    content: dict[str, Any]
    digest: str


def current_report(*, work_order_id: int) -> Draft:
    """Return what a report of this work order would say now.

    Raises
    ------
    NotFound
        There is no such work order.
    Refusal
        There is more to print than one paper holds.
    """
    facts = report_facts(work_order_id=work_order_id)
    others = registry.sections(work_order_id=work_order_id)
    report = work_order_report(
        facts,
        tuple(from_seam(section) for section in others),
        locale=settings.PAPER_LOCALE,
        page_size=settings.PAPER_SIZE,
    )
    plain = content(report)
    return Draft(report.number, plain, digest(plain, sheet_version=sheet_version()))
