"""The repairs that a shop confirmed: what the rates of faults are learned from.

How they change the rates is in `posterior.py`.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import isfinite
from typing import cast

from harness.errors import HarnessError, Problem
from harness.faults import fault_from
from harness.model import Harness
from harness.priors.rates import RATES
from harness.priors.segment_kinds import kind_of_segment, place_of_segment
from harness.segments import Mode, segments_of

# How many confirmed repairs our own table of rates is worth: about a year of a small
# shop's fault hunts (common practice, no source).
CONCENTRATION_REPAIRS = 40.0


@dataclass(frozen=True, slots=True, order=True)
class Confirmed:
    """Repairs that were proven: what was bad, how, how often, and where.

    A repair that put right several suspects at once counts a part for each.

    Raises
    ------
    HarnessError
        When no kind goes bad in that mode, or the count is no number of repairs.
    """

    kind: str
    mode: Mode
    count: float = 1.0
    place: str = ""

    def __post_init__(self) -> None:
        """Refuse what teaches nothing."""
        if self.mode not in RATES.get(self.kind, {}):
            known = RATES.get(self.kind, RATES)
            mend = f"use one of: {', '.join(known)}"
            what = f"{self.kind!r} with {self.mode!r} is no kind and mode"
            raise HarnessError((Problem(what, "history", mend),))
        if not (isfinite(self.count) and self.count >= 0):
            what = f"{self.count} is no number of repairs"
            raise HarnessError((Problem(what, "history", "give 0 or more"),))


def confirmed_on(h: Harness, segment: str, mode: str, count: float = 1.0) -> Confirmed:
    """Return a repair proven on a harness, by the segment that was put right.

    Raises
    ------
    HarnessError
        When the harness has no such segment, or the segment no such mode.
    """
    fault = fault_from(h, (segment, mode))
    found = segments_of(h)[segment]
    place = place_of_segment(h, found) or ""
    return Confirmed(kind_of_segment(h, found), fault.mode, count, place)


@dataclass(frozen=True, slots=True)
class Learned:
    """What was learned: the history, one row a kind, mode and place, sorted.

    Attributes
    ----------
    history : tuple of Confirmed
    concentration_repairs : float
        How many repairs the default rates are worth beside them.
    """

    history: tuple[Confirmed, ...] = ()
    concentration_repairs: float = CONCENTRATION_REPAIRS

    @property
    def repairs(self) -> float:
        """How many confirmed repairs were learned from."""
        return sum(row.count for row in self.history)


NOTHING_LEARNED = Learned()


def learned(
    history: Iterable[Confirmed | Mapping[str, object]],
    *,
    concentration_repairs: float = CONCENTRATION_REPAIRS,
) -> Learned:
    """Learn from a shop's confirmed repairs, in whatever order they came.

    Parameters
    ----------
    history : iterable of Confirmed or mapping
        A mapping has ``kind`` and ``mode``, and may have ``count`` and ``place``.
    concentration_repairs : float, optional
        How many repairs the default rates are worth.

    Raises
    ------
    HarnessError
        When a row names a kind or mode that the table of rates does not have, or a
        number is none.

    Examples
    --------
    >>> learned([{"kind": "lamp", "mode": "dead"}] * 3).repairs
    3.0
    """
    if not (isfinite(concentration_repairs) and concentration_repairs > 0):
        what = f"{concentration_repairs} is no number of repairs"
        where = "concentration_repairs"
        raise HarnessError((Problem(what, where, "give more than 0"),))
    rows = [row if isinstance(row, Confirmed) else _row(row) for row in history]
    return Learned(_merged(rows), float(concentration_repairs))


def _row(given: Mapping[str, object]) -> Confirmed:
    strange = sorted(set(given) - {"kind", "mode", "count", "place"})
    lacking = sorted({"kind", "mode"} - set(given))
    if strange or lacking:
        what = f"{dict(given)} has not the keys of a confirmed repair"
        mend = "give kind and mode, and if need be count and place"
        raise HarnessError((Problem(what, "history", mend),))
    count = given.get("count", 1.0)
    if not isinstance(count, int | float):
        problem = Problem(f"{count!r} is no number", "history", "give 0 or more")
        raise HarnessError((problem,))
    mode = cast("Mode", given["mode"])
    place = str(given.get("place") or "")
    return Confirmed(str(given["kind"]), mode, float(count), place)


def _merged(rows: Iterable[Confirmed]) -> tuple[Confirmed, ...]:
    # Sorted before they are added, so that not even the last bit tells the order.
    sums: dict[tuple[str, Mode, str], float] = {}
    for row in sorted(rows):
        key = (row.kind, row.mode, row.place)
        sums[key] = sums.get(key, 0.0) + row.count
    return tuple(
        Confirmed(kind, mode, count, place)
        for (kind, mode, place), count in sorted(sums.items())
    )
