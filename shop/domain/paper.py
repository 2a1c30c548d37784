"""The life of one requested paper, from the queue to the drawer.

A paper waits (`queued`), is being made (`building`), is there (`ready`) or could
not be made (`failed`). A worker that dies is told apart from a paper that cannot
be built: the first is a *crash*, found when the lease runs out; the second is an
*error* that the builder itself reported.
"""

from dataclasses import dataclass
from datetime import timedelta
from enum import StrEnum

MAX_ERRORS = 3
"""After so many reported errors a paper is put aside as failed."""

MAX_CRASHES = 5
"""After so many dead workers a paper is put aside: it may be what kills them."""

FIRST_PAUSE = timedelta(seconds=2)
"""The wait after the first error; it doubles with each further one."""


class PaperKind(StrEnum):
    """What a paper is."""

    WORK_ORDER_REPORT = "work-order-report"
    STRIP_TAG_LABELS = "strip-tag-labels"


FOR_CUSTOMERS = frozenset({PaperKind.WORK_ORDER_REPORT})
"""What a customer may have through a private link; the rest is the shop's own."""


class PaperState(StrEnum):
    """Where a requested paper stands."""

    QUEUED = "queued"
    BUILDING = "building"
    READY = "ready"
    FAILED = "failed"


class PaperEvent(StrEnum):
    """What can happen to a requested paper."""

    CLAIM = "claim"
    FINISH = "finish"
    PUT_BACK = "put back"
    PUT_ASIDE = "put aside"
    RETRY = "retry"
    REMAKE = "remake"


MOVES: dict[tuple[PaperState, PaperEvent], PaperState] = {
    (PaperState.QUEUED, PaperEvent.CLAIM): PaperState.BUILDING,
    (PaperState.BUILDING, PaperEvent.FINISH): PaperState.READY,
    (PaperState.BUILDING, PaperEvent.PUT_BACK): PaperState.QUEUED,
    (PaperState.BUILDING, PaperEvent.PUT_ASIDE): PaperState.FAILED,
    (PaperState.FAILED, PaperEvent.RETRY): PaperState.QUEUED,
    (PaperState.READY, PaperEvent.REMAKE): PaperState.QUEUED,
}

UNDER_WAY = frozenset({PaperState.QUEUED, PaperState.BUILDING})


@dataclass(frozen=True)
class Stage:
    """One step of the making, as the waiting person reads it.

    Attributes
    ----------
    step : int
        1 for the first step.
    words : str
        What is being done, in plain words.
    """

    step: int
    words: str


SETTING = Stage(1, "Setting out the text")
PRINTING = Stage(2, "Laying out the pages")
CHECKING = Stage(3, "Checking the finished file")
FILING = Stage(4, "Putting it in the drawer")
STEPS = 4


def after_error(errors: int) -> PaperEvent:
    """Return what follows a reported error.

    Parameters
    ----------
    errors : int
        How many errors this paper has had, this one included.

    Examples
    --------
    >>> after_error(1).value, after_error(3).value
    ('put back', 'put aside')
    """
    return PaperEvent.PUT_ASIDE if errors >= MAX_ERRORS else PaperEvent.PUT_BACK


def after_crash(crashes: int) -> PaperEvent:
    """Return what follows a worker's death.

    Parameters
    ----------
    crashes : int
        How many workers died over this paper, this one included.

    Examples
    --------
    >>> after_crash(4).value, after_crash(5).value
    ('put back', 'put aside')
    """
    return PaperEvent.PUT_ASIDE if crashes >= MAX_CRASHES else PaperEvent.PUT_BACK


def pause_after(errors: int) -> timedelta:
    """Return how long a paper rests before it is tried again.

    Parameters
    ----------
    errors : int
        How many errors this paper has had, at least one.

    Examples
    --------
    >>> [pause_after(n).seconds for n in (1, 2, 3)]
    [2, 4, 8]
    """
    return FIRST_PAUSE * (1 << (errors - 1))
