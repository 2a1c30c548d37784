"""What the bench adds to a work order: a panel, report sections, closing blockers."""

from collections.abc import Sequence

from django.urls import reverse

from diagnostics.cautions import FUSE, isolate_battery
from diagnostics.lifecycle import CaseState
from diagnostics.measurement_sections import measurement_blocks
from diagnostics.segment_lists import in_runs, in_short
from diagnostics.selectors.cases import cases_of_work_order
from diagnostics.selectors.findings import FindingView
from diagnostics.selectors.records import CaseRecord, case_records, unfinished_titles
from diagnostics.selectors.segments import SegmentView, StretchView
from shop.domain.roles import Act, Viewer
from shop.seams import (
    Block,
    Caution,
    Heading,
    Link,
    Panel,
    PanelRow,
    Paragraph,
    Registry,
    ReportSection,
    Table,
)

SECTION_ORDER = 20
# Below this it was a meter's own current.
LEAST_AMPS_TOLD = 0.01
NBSP = "\N{NO-BREAK SPACE}"


def register_with(registry: Registry) -> None:
    """Register everything under one key."""
    registry.register_panel("bench", cases_panel)
    registry.register_sections("bench", cases_sections)
    registry.register_blockers("bench", cases_blockers)


def cases_panel(*, work_order_id: int, viewer: Viewer) -> Panel | None:
    """Return the work order's fault hunts, and where to open one."""
    lines = cases_of_work_order(work_order_id=work_order_id, viewer=viewer)
    links: tuple[Link, ...] = ()
    if viewer.may(Act.FIND_FAULTS):
        href = reverse("diagnostics:case_open", args=[work_order_id])
        links = (Link(text="Open a case", href=href),)
    return Panel(
        key="bench",
        title="Bench",
        rows=tuple(
            PanelRow(
                label=line.title,
                text=_findings_words(line.findings_taken),
                href=reverse("diagnostics:case", args=[line.case_id]),
                mark=line.state_label,
            )
            for line in lines
        ),
        empty_text="No fault hunt yet. Open a case to track a fault in the loom "
        "with test lamp and meter.",
        links=links,
    )


def cases_blockers(*, work_order_id: int) -> Sequence[str]:
    """Return a sentence for each hunt that is not finished."""
    return [
        _BLOCKS[CaseState(state)].format(title=title)
        for title, state in unfinished_titles(work_order_id=work_order_id)
    ]


_BLOCKS = {
    CaseState.OPEN: "The case “{title}” is open: record its repair and prove it, "
    "or give it up with the reason.",
    CaseState.REPAIRED: "The repair of “{title}” is not proven: take the failed tests "
    "again and close the case.",
}


def cases_sections(*, work_order_id: int) -> Sequence[ReportSection]:
    """Return what was found and how, for each hunt of the work order."""
    return [
        ReportSection(
            key=f"bench-{number:02d}",
            title=f"Fault finding: {record.title}",
            order=SECTION_ORDER,
            blocks=tuple(_blocks(record)),
        )
        for number, record in enumerate(case_records(work_order_id=work_order_id), 1)
    ]


def _blocks(record: CaseRecord) -> list[Block]:
    blocks: list[Block] = [
        Paragraph(
            f"Drawing: {record.drawing}, {record.nominal_volts} V, {record.earth} "
            f"earth. State of this hunt: {record.state_label.lower()}."
        )
    ]
    if record.findings:
        blocks += [Heading("Findings, in the order they were taken"), _findings(record)]
    blocks += _conclusion(record)
    if any(_told(stretch) for stretch in record.found.stretches):
        blocks += [Heading("Verdicts by stretch of the loom"), _verdicts(record)]
    if record.found.conflict:
        blocks.append(Paragraph(record.found.conflict.words))
    for repair in record.repairs:
        blocks += [Heading(f"Repair {repair.sequence}"), Paragraph(repair.done)]
        about = [f"Put right: {'; '.join(repair.segment_labels)}."]
        about += [f"It was: {repair.mode_label}."] if repair.mode_label else []
        about += [f"Used: {repair.parts}."] if repair.parts else []
        if repair.segment_labels:
            blocks.append(Paragraph(" ".join(about)))
    if record.retests:
        blocks += [Heading("Proof of the repair"), _proof(record)]
    blocks += measurement_blocks(record.title, record.measurements)
    blocks += [Caution(isolate_battery(record.earth)), Caution(FUSE)]
    return blocks


def _conclusion(record: CaseRecord) -> list[Block]:
    """Say what the findings came to: the likeliest explanation, one or two faults."""
    if not record.findings or not record.found.faults:
        return []
    first = record.found.faults[0]
    told = ", and at the same time: ".join(first.lines)
    return [
        Heading("What the findings came to"),
        Paragraph(f"{told}: {first.percent.replace(' ', NBSP)} likely."),
    ]


def _findings(record: CaseRecord) -> Table:
    return Table(
        caption=f"Findings of “{record.title}”",
        head=("No.", "Switches", "Test", "Read"),
        rows=tuple(
            (
                str(finding.sequence),
                finding.rig_words,
                f"{finding.tool_label}: {finding.where}",
                _reading(finding),
            )
            for finding in record.findings
        ),
        numeric=(0,),
    )


def _reading(finding: FindingView) -> str:
    if finding.void:
        return f"{finding.reading} (void: {finding.void.reason})"
    return f"{finding.reading}. {finding.note}" if finding.note else finding.reading


def _verdicts(record: CaseRecord) -> Table:
    """Name what is bad piece by piece, and list in short what is proven good."""
    rows: list[tuple[str, ...]] = []
    for stretch in record.found.stretches:
        name = stretch.name.capitalize()
        rows += [
            (name, view.verdict, view.label, _numbers((view,))) for view in stretch.bad
        ]
        for verdict, views in (
            ("sound", stretch.sound),
            ("untested", stretch.untested),
        ):
            if views:
                listed = in_short(view.segment for view in views)
                text = f"{_count_and_amps(views)}{listed}"
                rows.append((name, verdict, text, _numbers(views)))
    return Table(
        caption=f"Verdicts of “{record.title}”",
        head=("Stretch", "Verdict", "What", "By finding"),
        rows=tuple(rows),
    )


def _count_and_amps(views: Sequence[SegmentView]) -> str:
    """Return how many pieces, and the least current that any was proven at."""
    count = f"{len(views)} pieces" if len(views) > 1 else ""
    amps = [view.proven_amps for view in views if view.proven_amps is not None]
    carried = ""
    if len(amps) == len(views) and min(amps) >= LEAST_AMPS_TOLD:
        each = "each carried" if len(views) > 1 else "Carried"
        carried = f"{each} {min(amps):.2g} A or more"
    said = ", ".join(part for part in (count, carried) if part)
    return f"{said}. " if said else ""


def _told(stretch: StretchView) -> bool:
    """Return whether anything is known of a stretch."""
    return bool(stretch.bad or stretch.sound)


def _proof(record: CaseRecord) -> Table:
    return Table(
        caption=f"Failed tests of “{record.title}”, taken again",
        head=("No.", "Test", "Before", "A healthy loom", "Again", "Result"),
        rows=tuple(
            (
                str(item.finding.sequence),
                f"{item.finding.rig_words}. {item.finding.where}",
                item.finding.reading,
                item.healthy,
                item.again_reading or "not taken yet",
                item.result,
            )
            for item in record.retests
        ),
        numeric=(0,),
    )


def _numbers(views: Sequence[SegmentView]) -> str:
    if all(view.verdict == "untested" for view in views):
        return "none"
    return in_runs(n for view in views for n in view.proof) or "by elimination"


def _findings_words(count: int) -> str:
    return "1 finding" if count == 1 else f"{count} findings"
