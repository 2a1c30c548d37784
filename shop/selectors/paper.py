"""Requested paper as the people of the shop, and one customer, may see it."""

from dataclasses import dataclass
from datetime import datetime

from shop.domain.paper import MOVES, UNDER_WAY, PaperEvent, PaperKind, PaperState
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import PaperRequest, WorkOrder
from shop.models.columns import row_id
from shop.models.paper import KIND_LABELS, STATE_LABELS, PaperRequestQuerySet

PANEL_ROWS = 5
CUSTOMER_ROWS = 200
_WORD = {
    PaperKind.WORK_ORDER_REPORT.value: "report",
    PaperKind.STRIP_TAG_LABELS.value: "labels",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperRow:
    """One paper: what it is, how far it is, what can be done with it."""

    id: int
    work_order_id: int
    work_order_label: str
    kind: str
    kind_label: str
    state: str
    state_label: str
    is_under_way: bool
    is_ready: bool
    may_retry: bool
    step: int
    steps: int
    step_words: str
    failure_reason: str
    requested_at: datetime
    requested_by_name: str
    ready_at: datetime | None
    page_count: int
    byte_count: int
    sha256: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperPanel:
    """The paper of one work order, and whether the viewer may ask for more."""

    work_order_id: int
    work_order_label: str
    may_request: bool
    is_moving: bool
    rows: tuple[PaperRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperFile:
    """Where a finished paper lies and what to call it outside."""

    file_name: str
    sha256: str
    download_name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerPaper:
    """A finished paper as its customer sees it."""

    id: int
    kind_label: str
    work_order_label: str
    bike: str
    facts_of: datetime
    page_count: int
    byte_count: int


def paper_panel(*, work_order_id: int, viewer: Viewer) -> PaperPanel:
    """Return the latest papers of a work order, in two queries.

    Raises
    ------
    NotAllowed
        The role may not see what stands on paper.
    NotFound
        There is no such work order.
    """
    viewer.demand(Act.SEE_CUSTOMERS)
    order = WorkOrder.objects.filter(pk=work_order_id).first()
    if order is None:
        raise NotFound("work-order-not-found", "There is no such work order.")
    found = PaperRequest.objects.of_work_order(work_order_id).latest_first()
    rows = tuple(_row(paper, viewer) for paper in _with_people(found)[:PANEL_ROWS])
    return PaperPanel(
        work_order_id=work_order_id,
        work_order_label=order.label,
        may_request=viewer.may(Act.REQUEST_PAPER),
        is_moving=any(row.is_under_way for row in rows),
        rows=rows,
    )


def paper_status(*, paper_id: int, viewer: Viewer) -> PaperRow:
    """Return how far one paper is.

    Raises
    ------
    NotAllowed
        The role may not see what stands on paper.
    NotFound
        There is no such paper.
    """
    viewer.demand(Act.SEE_CUSTOMERS)
    found = _with_people(PaperRequest.objects.filter(pk=paper_id)).first()
    if found is None:
        raise _no_paper()
    return _row(found, viewer)


def paper_file(*, paper_id: int, viewer: Viewer) -> PaperFile:
    """Return where a finished paper lies.

    Raises
    ------
    NotAllowed
        The role may not see what stands on paper.
    NotFound
        There is no such paper, or it is not ready.
    """
    viewer.demand(Act.SEE_CUSTOMERS)
    return _file(PaperRequest.objects.all(), paper_id)


def label_papers(*, work_order_id: int, viewer: Viewer) -> tuple[PaperRow, ...]:
    """Return the latest labels of a work order; no customer is named on them."""
    viewer.demand(Act.KEEP_TAGS)
    found = PaperRequest.objects.of_work_order(row_id(work_order_id)).of_kind(
        PaperKind.STRIP_TAG_LABELS
    )
    latest = _with_people(found.latest_first())[:PANEL_ROWS]
    return tuple(_row(paper, viewer) for paper in latest)


def label_file(*, paper_id: int, viewer: Viewer) -> PaperFile:
    """Return where finished labels lie.

    Raises
    ------
    NotFound
        There are no such labels, or they are not ready.
    """
    viewer.demand(Act.KEEP_TAGS)
    return _file(PaperRequest.objects.of_kind(PaperKind.STRIP_TAG_LABELS), paper_id)


def customer_papers(*, customer_id: int) -> tuple[CustomerPaper, ...]:
    """Return one customer's finished papers, the newest first."""
    found = (
        PaperRequest.objects.of_customer(customer_id)
        .in_state(PaperState.READY)
        .select_related("work_order__bike")
        .defer("content")
        .latest_first()
    )
    return tuple(
        CustomerPaper(
            id=paper.pk,
            kind_label=KIND_LABELS[PaperKind(paper.kind)],
            work_order_label=paper.work_order.label,
            bike=paper.work_order.bike.name,
            facts_of=paper.requested_at,
            page_count=paper.page_count,
            byte_count=paper.byte_count,
        )
        for paper in found[:CUSTOMER_ROWS]
    )


def customer_paper_file(*, paper_id: int, customer_id: int) -> PaperFile:
    """Return where one customer's own paper lies.

    Raises
    ------
    NotFound
        There is no such paper, it is not ready, or it is somebody else's.
    """
    return _file(PaperRequest.objects.of_customer(customer_id), paper_id)


def _file(among: PaperRequestQuerySet, paper_id: int) -> PaperFile:
    ready = among.in_state(PaperState.READY).filter(pk=paper_id)
    paper = ready.select_related("work_order").defer("content").first()
    if paper is None:
        raise _no_paper()
    day = paper.requested_at.date().isoformat()
    return PaperFile(
        file_name=paper.file_name,
        sha256=paper.sha256,
        download_name=f"{paper.work_order.label}-{_WORD[paper.kind]}-{day}.pdf",
    )


def _no_paper() -> NotFound:
    return NotFound("paper-not-found", "There is no such paper.")


def _with_people(found: PaperRequestQuerySet) -> PaperRequestQuerySet:
    return found.select_related("work_order", "requested_by").defer("content")


def _row(paper: PaperRequest, viewer: Viewer) -> PaperRow:
    state = PaperState(paper.state)
    has_failed = (state, PaperEvent.RETRY) in MOVES
    return PaperRow(
        id=paper.pk,
        work_order_id=paper.work_order_id,
        work_order_label=paper.work_order.label,
        kind=paper.kind,
        kind_label=KIND_LABELS[PaperKind(paper.kind)],
        state=paper.state,
        state_label=STATE_LABELS[state],
        is_under_way=state in UNDER_WAY,
        is_ready=state is PaperState.READY,
        may_retry=has_failed and viewer.may(Act.REQUEST_PAPER),
        step=paper.step,
        steps=paper.steps,
        step_words=paper.step_words,
        failure_reason=paper.failure_reason,
        requested_at=paper.requested_at,
        requested_by_name=paper.requested_by.name,
        ready_at=paper.ready_at,
        page_count=paper.page_count,
        byte_count=paper.byte_count,
        sha256=paper.sha256,
    )
