"""How a case moves on: one conditional update, so that two hands cannot collide."""

import re
from collections.abc import Callable
from typing import TypeVar

from django.db import transaction
from django.db.models import F

from diagnostics.lifecycle import CaseState
from diagnostics.models import Case
from shop.domain.refusals import ConcurrentChange, NotFound, Refusal

Result = TypeVar("Result")

_ATTEMPTS = 5
_KEY = re.compile(r"[A-Za-z0-9._:-]{1,100}")


class _OvertakenError(Exception):
    """Somebody else added to the case between reading it and writing."""


def case_row(case_id: int) -> Case:
    """Return the case with its harness file's digest, or refuse.

    Raises
    ------
    NotFound
        There is no such case.
    """
    case = (
        Case.objects.select_related("harness_file")
        .defer("harness_file__text")
        .filter(pk=case_id)
        .first()
    )
    if case is None:
        raise NotFound("case-not-found", "There is no such case.", "case_id")
    return case


def advance(
    case: Case,
    *,
    steps: int = 1,
    findings: int = 0,
    repairs: int = 0,
    to: CaseState | None = None,
) -> None:
    """Move the case on, if it still is as it was read; call inside a transaction."""
    moved = Case.objects.filter(pk=case.pk, step=case.step, state=case.state).update(
        step=F("step") + steps,
        findings_taken=F("findings_taken") + findings,
        repairs_made=F("repairs_made") + repairs,
        state=to if to is not None else CaseState(case.state),
    )
    if moved != 1:
        raise _OvertakenError


def on_the_case_as_it_is(work: Callable[[], Callable[[], Result]]) -> Result:
    """Do `work`, whose first half reads and thinks and whose second half writes.

    The first half runs outside the transaction, since the engine may take a moment;
    where somebody else was quicker, both halves are done again on the new facts.

    Raises
    ------
    ConcurrentChange
        The case kept moving under our hands.
    """
    for _ in range(_ATTEMPTS):
        write = work()
        try:
            with transaction.atomic():
                return write()
        except _OvertakenError:
            continue
    raise ConcurrentChange(
        "case-changed",
        "Somebody else is entering findings on this case just now. "
        "Look at what was added, then try again.",
    )


def demand_key(key: str) -> str:
    """Return the key of a tap, or refuse where it has none.

    Raises
    ------
    Refusal
        Without a key the same tap sent twice would count twice.
    """
    if not _KEY.fullmatch(key.strip()):
        raise Refusal(
            "key-missing",
            "The entry carries no key of its own: 1 to 100 letters, figures or "
            "hyphens. Load the page again.",
            "key",
        )
    return key.strip()
