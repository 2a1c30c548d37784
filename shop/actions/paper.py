"""Asking for paper: one row for each content, and a worker woken on commit."""

from datetime import datetime

from django.db import transaction

from shop import jobs
from shop.actions.history import Happening, record
from shop.domain.paper import MOVES, PaperEvent, PaperKind, PaperState
from shop.domain.refusals import ConcurrentChange, IllegalMove, NotFound
from shop.domain.roles import Act, Role, demand
from shop.models import PaperRequest, User
from shop.paper import drawer
from shop.paper.current import Draft, current_report

DRAIN = "shop.drain_paper"
WAITING_WORDS = "Waiting for its turn"


def request_report(
    *, work_order_id: int, acting_user: User, at: datetime
) -> PaperRequest:
    """Order the report of a work order; the same facts are one paper, made once.

    A paper that could not be made, or whose file was lost, is made anew.

    Raises
    ------
    NotAllowed
        The role may not ask for paper.
    NotFound
        There is no such work order.
    Refusal
        There is more to print than one paper holds.
    """
    demand(Role(acting_user.role), Act.REQUEST_PAPER)
    draft = current_report(work_order_id=work_order_id)
    return order_paper(
        draft=draft,
        kind=PaperKind.WORK_ORDER_REPORT,
        work_order_id=work_order_id,
        told=f"Report of {draft.label} requested",
        acting_user=acting_user,
        at=at,
    )


def order_paper(
    *,
    draft: Draft,
    kind: PaperKind,
    work_order_id: int,
    told: str,
    acting_user: User,
    at: datetime,
) -> PaperRequest:
    """Put a paper in the queue, unless exactly this one is there already."""
    with transaction.atomic():
        paper, is_new = PaperRequest.objects.get_or_create(
            digest=draft.digest,
            defaults={
                "kind": kind.value,
                "work_order_id": work_order_id,
                "content": draft.content,
                "not_before": at,
                "step_words": WAITING_WORDS,
                "requested_by": acting_user,
                "requested_at": at,
            },
        )
        if is_new:
            _note(paper, "requested", told, acting_user, at)
        elif event := _what_mends(paper):
            _put_in_queue(paper, event, acting_user, at)
        if paper.state != PaperState.READY.value:
            jobs.enqueue(DRAIN)
    return paper


def retry(*, paper_id: int, acting_user: User, at: datetime) -> PaperRequest:
    """Put a paper that could not be made back in the queue.

    Raises
    ------
    NotAllowed
        The role may not ask for paper.
    NotFound
        There is no such paper.
    IllegalMove
        The paper has not failed.
    """
    demand(Role(acting_user.role), Act.REQUEST_PAPER)
    with transaction.atomic():
        paper = PaperRequest.objects.filter(pk=paper_id).first()
        if paper is None:
            raise NotFound("no-paper", "There is no such paper.")
        if (PaperState(paper.state), PaperEvent.RETRY) not in MOVES:
            raise IllegalMove(
                "not-failed",
                "Only a paper that could not be made can be tried again.",
            )
        _put_in_queue(paper, PaperEvent.RETRY, acting_user, at)
        jobs.enqueue(DRAIN)
    return paper


def _what_mends(paper: PaperRequest) -> PaperEvent | None:
    if paper.state == PaperState.FAILED.value:
        return PaperEvent.RETRY
    if paper.state == PaperState.READY.value and not drawer.holds(paper.file_name):
        return PaperEvent.REMAKE
    return None


def _put_in_queue(
    paper: PaperRequest, event: PaperEvent, acting_user: User, at: datetime
) -> None:
    old = PaperState(paper.state)
    moved = PaperRequest.objects.filter(pk=paper.pk, state=old.value).update(
        state=MOVES[old, event].value,
        step=0,
        step_words=WAITING_WORDS,
        errors=0,
        crashes=0,
        not_before=at,
        failure_reason="",
        ready_at=None,
        file_name="",
        sha256="",
        page_count=0,
        byte_count=0,
    )
    if moved != 1:
        raise ConcurrentChange(
            "changed-meanwhile",
            "Somebody else has just asked for this paper. Look again in a moment.",
        )
    paper.refresh_from_db()
    _note(
        paper,
        "retried",
        f"{paper.get_kind_display()} put back in the queue",
        acting_user,
        at,
    )


def _note(
    paper: PaperRequest, done: str, summary: str, acting_user: User, at: datetime
) -> None:
    happening = Happening(
        verb=f"paper.{done}",
        kind="paper",
        subject_id=paper.pk,
        summary=summary,
        work_order_id=paper.work_order_id,
    )
    record(happening, acting_user=acting_user, at=at)
