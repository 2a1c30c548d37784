"""Making the paper that waits: claim, build outside any transaction, hand in.

Any number of workers may do this at the same time. A claim is a conditional
update; the builder holds a lease that every step renews; only the holder can hand
in. A worker that dies lets its lease run out, and the sweep puts the paper back.
"""

import logging
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from secrets import token_hex
from typing import Any

from django.conf import settings
from django.db import transaction
from django.db.models import F

from shop import jobs
from shop.actions.history import Happening, record
from shop.actions.paper import DRAIN, WAITING_WORDS
from shop.domain.paper import (
    CHECKING,
    FILING,
    MOVES,
    PRINTING,
    SETTING,
    PaperEvent,
    PaperKind,
    PaperState,
    Stage,
    after_crash,
    after_error,
    pause_after,
)
from shop.models import PaperRequest, User
from shop.models.paper import KIND_LABELS
from shop.paper import drawer
from shop.paper.render import PaperError, count_pages, pdf_from_html
from shop.paper.sheets import page, style_of

logger = logging.getLogger(__name__)

CRASHED = (
    "The making of this paper was cut off several times. Whoever looks after the "
    "service should read its log before this is tried again."
)


class ClaimLost(Exception):  # noqa: N818 - another worker goes on; nothing is wrong
    """The lease ran out meanwhile, and the paper is somebody else's now."""


@dataclass(frozen=True, slots=True)
class Claim:
    """One paper in the hands of one worker."""

    paper_id: int
    work_order_id: int
    owner: str
    digest: str
    content: dict[str, Any]
    requested_at: datetime


@dataclass(frozen=True, slots=True)
class Made:
    """A finished paper, filed."""

    file_name: str
    sha256: str
    page_count: int
    byte_count: int


Clock = Callable[[], datetime]


def build_next(*, acting_user: User | None, at: datetime, clock: Clock) -> bool:
    """Make the paper that has waited longest; say whether there was one.

    `at` is when the worker asks, `clock` tells how the time goes on meanwhile.
    """
    claim = _claim(at)
    if claim is None:
        return False
    try:
        made = _make(claim, clock)
    except ClaimLost:
        logger.warning("paper %s went on to another worker", claim.paper_id)
    except Exception as fault:
        logger.exception("paper %s could not be built", claim.paper_id)
        _hand_back(claim, fault, acting_user=acting_user, at=clock())
    else:
        _hand_in(claim, made, acting_user=acting_user, at=clock())
    return True


def sweep(*, acting_user: User | None, at: datetime) -> int:
    """Put back what dead workers held, wake one worker if anything waits.

    Returns how many papers were put back or put aside.
    """
    swept = sum(
        _take_back(paper, acting_user=acting_user, at=at)
        for paper in PaperRequest.objects.abandoned(at)
    )
    if PaperRequest.objects.due(at).exists():
        jobs.enqueue(DRAIN)
    return swept


def _lease(at: datetime) -> datetime:
    return at + timedelta(seconds=settings.PAPER_LEASE_S)


def _claim(at: datetime) -> Claim | None:
    """Take one waiting paper; try the next where another worker was quicker."""
    while (paper := PaperRequest.objects.due(at).first()) is not None:
        owner = token_hex(16)
        # Durable: refuses to run inside a transaction, so no paper is built in one.
        with transaction.atomic(durable=True):
            taken = PaperRequest.objects.filter(
                pk=paper.pk, state=PaperState.QUEUED.value
            ).update(
                state=MOVES[PaperState.QUEUED, PaperEvent.CLAIM].value,
                owner=owner,
                lease_until=_lease(at),
                attempts=F("attempts") + 1,
                step=SETTING.step,
                step_words=SETTING.words,
            )
        if taken == 1:
            return Claim(
                paper_id=paper.pk,
                work_order_id=paper.work_order_id,
                owner=owner,
                digest=paper.digest,
                content=paper.content,
                requested_at=paper.requested_at,
            )
    return None


def _make(claim: Claim, clock: Clock) -> Made:
    html = page(claim.content, asked_at=claim.requested_at)
    css = style_of(claim.content)
    _reach(claim, PRINTING, clock())
    identifier = bytes.fromhex(claim.digest)[:16]
    pdf = pdf_from_html(html, css=css, identifier=identifier)
    _reach(claim, CHECKING, clock())
    pages = count_pages(pdf)
    _reach(claim, FILING, clock())
    return Made(
        file_name=drawer.put(pdf, owner=claim.owner),
        sha256=drawer.fingerprint(pdf),
        page_count=pages,
        byte_count=len(pdf),
    )


def _reach(claim: Claim, stage: Stage, at: datetime) -> None:
    """Show the step and renew the lease."""
    still_held = PaperRequest.objects.held_by(claim.paper_id, claim.owner).update(
        step=stage.step, step_words=stage.words, lease_until=_lease(at)
    )
    if still_held != 1:
        raise ClaimLost


def _hand_in(
    claim: Claim, made: Made, *, acting_user: User | None, at: datetime
) -> None:
    with transaction.atomic(durable=True):
        handed_in = PaperRequest.objects.held_by(claim.paper_id, claim.owner).update(
            state=MOVES[PaperState.BUILDING, PaperEvent.FINISH].value,
            owner="",
            lease_until=None,
            ready_at=at,
            file_name=made.file_name,
            sha256=made.sha256,
            page_count=made.page_count,
            byte_count=made.byte_count,
            failure_reason="",
        )
        if handed_in:
            happening = Happening(
                verb="paper.ready",
                kind="paper",
                subject_id=claim.paper_id,
                summary=f"{_named(claim)} ready, {made.page_count} pages",
                work_order_id=claim.work_order_id,
            )
            record(happening, acting_user=acting_user, at=at)
    if not handed_in:
        drawer.discard(made.file_name)
        logger.warning("paper %s was finished by another worker", claim.paper_id)


def _named(claim: Claim) -> str:
    is_report = claim.content["kind"] == PaperKind.WORK_ORDER_REPORT.value
    return "Report" if is_report else KIND_LABELS[PaperKind(claim.content["kind"])]


def _hand_back(
    claim: Claim, fault: Exception, *, acting_user: User | None, at: datetime
) -> None:
    held = PaperRequest.objects.held_by(claim.paper_id, claim.owner)
    paper = held.first()
    if paper is None:
        return
    errors = paper.errors + 1
    event = after_error(errors)
    with transaction.atomic(durable=True):
        moved = held.update(
            state=MOVES[PaperState.BUILDING, event].value,
            owner="",
            lease_until=None,
            errors=errors,
            not_before=at + pause_after(errors),
            step=0,
            step_words=WAITING_WORDS,
            failure_reason=_reason(fault),
        )
        if moved and event is PaperEvent.PUT_ASIDE:
            _note_failure(paper, acting_user=acting_user, at=at, reason=_reason(fault))
    drawer.discard(drawer.name_for(claim.owner))


def _take_back(paper: PaperRequest, *, acting_user: User | None, at: datetime) -> int:
    crashes = paper.crashes + 1
    event = after_crash(crashes)
    is_over = event is PaperEvent.PUT_ASIDE
    with transaction.atomic(durable=True):
        moved = (
            PaperRequest.objects.held_by(paper.pk, paper.owner)
            .filter(lease_until__lte=at)
            .update(
                state=MOVES[PaperState.BUILDING, event].value,
                owner="",
                lease_until=None,
                crashes=crashes,
                not_before=at,
                step=0,
                step_words=WAITING_WORDS,
                failure_reason=CRASHED if is_over else "",
            )
        )
        if moved and is_over:
            _note_failure(paper, acting_user=acting_user, at=at, reason=CRASHED)
    if moved:
        drawer.discard(drawer.name_for(paper.owner))
    return moved


def _note_failure(
    paper: PaperRequest, *, acting_user: User | None, at: datetime, reason: str
) -> None:
    happening = Happening(
        verb="paper.failed",
        kind="paper",
        subject_id=paper.pk,
        summary=f"{paper.get_kind_display()} could not be made",
        work_order_id=paper.work_order_id,
        reason=reason,
    )
    record(happening, acting_user=acting_user, at=at)


def _reason(fault: Exception) -> str:
    """Return what the user is told; the log has the rest."""
    if isinstance(fault, PaperError):
        return f"{str(fault)[:1].upper()}{str(fault)[1:]}."
    return (
        f"Something went wrong while it was made ({type(fault).__name__}). "
        "Whoever looks after the service finds more in its log."
    )
