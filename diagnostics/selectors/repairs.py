"""What a repair can put right: the segments, the likeliest first."""

from dataclasses import dataclass

from diagnostics.selectors.cases import CaseHead, case_page
from shop.domain.roles import Viewer


@dataclass(frozen=True, kw_only=True)
class RepairChoices:
    """The segments to tick, by how much they are suspected, and the leading fault."""

    head: CaseHead
    suspected: tuple[tuple[str, str], ...]
    others: tuple[tuple[str, str], ...]
    leading_segments: tuple[str, ...]
    leading_mode: str


def repair_choices(*, case_id: int, viewer: Viewer) -> RepairChoices:
    """Return what can be ticked on the repair form.

    Raises
    ------
    NotFound
        There is no such case.
    """
    page = case_page(case_id=case_id, viewer=viewer)
    views = [view for stretch in page.belief.stretches for view in stretch.segments]
    leading = next((fault for fault in page.belief.faults if fault.segments), None)
    return RepairChoices(
        head=page.head,
        suspected=tuple(
            (view.segment, f"{view.label} ({view.verdict}, {view.percent})")
            for view in views
            if view.verdict in ("faulty", "suspect")
        ),
        others=tuple(
            (view.segment, view.label)
            for view in views
            if view.verdict not in ("faulty", "suspect")
        ),
        leading_segments=leading.segments if leading else (),
        leading_mode=leading.mode if leading else "",
    )
