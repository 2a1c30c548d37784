"""A bike's time line: everything ever done to it, from every work order and beyond.

Every act leaves a history row, so the time line is read from these alone: one query
counts, one fetches the page, and each kind that another app has added may ask one
more for its links, however long the list is.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from shop.domain.refusals import NotFound, Refusal
from shop.domain.roles import Act, Viewer
from shop.models import Bike, HistoryEntry
from shop.models.history import HistoryEntryQuerySet
from shop.seams import Link, TimelineKind, registry
from shop.selectors.history import state_label
from shop.selectors.windows import FIRST_ROWS, Listing, Window, listing

KINDS = (
    TimelineKind("work_orders", "Work orders", ("work_order",), 10),
    TimelineKind(
        "work",
        "Tasks and checks",
        ("task", "hold", "advisory", "check_list", "check_item"),
        20,
    ),
    TimelineKind("labour", "Labour", ("labour", "clock"), 40),
    TimelineKind("parts", "Parts", ("part_line",), 50),
    TimelineKind("tags", "Strip tags", ("strip_tag", "outside_work"), 60),
    TimelineKind("paper", "Paper", ("paper",), 70),
    TimelineKind("photos", "Photos and files", ("attachment",), 80),
    TimelineKind("owners", "Owners", ("ownership", "bike"), 90),
    TimelineKind("odometer", "Odometer", ("odometer_reading",), 95),
)
OTHER = TimelineKind("other", "Other", (), 99)
# Acts whose words name a customer.
_NAMES_CUSTOMER = ("ownership", "bike")
_NOTHING: Mapping[int, Link] = {}


@dataclass(frozen=True, slots=True, kw_only=True)
class TimelineRow:
    """One act on a bike's time line, where it belongs, and where it leads."""

    id: int
    at: datetime
    actor_name: str
    kind: str
    kind_label: str
    verb: str
    summary: str
    reason: str
    old_state_label: str
    new_state_label: str
    work_order_id: int | None
    work_order_label: str
    link_text: str
    href: str


@dataclass(frozen=True, slots=True, kw_only=True)
class KindChoice:
    """A kind that the time line can be narrowed to."""

    key: str
    label: str


def timeline_kinds() -> tuple[KindChoice, ...]:
    """Return what the time line can be narrowed to, in order; no query."""
    return tuple(KindChoice(key=kind.key, label=kind.label) for kind in _kinds())


def bike_timeline(
    *, bike_id: int, viewer: Viewer, kind: str = "", window: Window = FIRST_ROWS
) -> Listing[TimelineRow]:
    """Return what was done to a bike, the newest first.

    Raises
    ------
    NotFound
        No such bike.
    Refusal
        ``timeline-kind-unknown``.
    """
    found = acts_on_bike(bike_id=bike_id, viewer=viewer, kind=kind, window=window)
    if not found.total and not Bike.objects.filter(pk=bike_id).exists():
        raise NotFound("bike-not-found", "There is no such bike.")
    return found


def acts_on_bike(
    *, bike_id: int, viewer: Viewer, kind: str = "", window: Window = FIRST_ROWS
) -> Listing[TimelineRow]:
    """Return the same of a bike that is known to be there.

    Raises
    ------
    Refusal
        ``timeline-kind-unknown``.
    """
    viewer.demand(Act.SEE_SHOP)
    entries = HistoryEntry.objects.of_bike(bike_id)
    if kind:
        entries = entries.about(_kind(kind).nouns)
    if not viewer.may(Act.SEE_CUSTOMERS):
        entries = entries.but_about(_NAMES_CUSTOMER)
    return _page(entries, window)


def _page(entries: HistoryEntryQuerySet, window: Window) -> Listing[TimelineRow]:
    newest = entries.latest_first().select_related("work_order")
    found = listing(newest, window=window, row=lambda entry: entry)
    links = _links(found.rows)
    return Listing(
        rows=tuple(_row(entry, links) for entry in found.rows),
        total=found.total,
        window=window,
    )


def _links(
    entries: Sequence[HistoryEntry],
) -> Mapping[str, Mapping[int, Link]]:
    """Return the links of every kind that has some, by the kind's key."""
    found: dict[str, Mapping[int, Link]] = {}
    for kind in _kinds():
        ids = {entry.subject_id for entry in entries if _noun(entry.verb) in kind.nouns}
        if kind.links is not None and ids:
            found[kind.key] = kind.links(subject_ids=sorted(ids))
    return found


def _row(entry: HistoryEntry, links: Mapping[str, Mapping[int, Link]]) -> TimelineRow:
    kind = _kind_of(entry.verb)
    link = links.get(kind.key, _NOTHING).get(entry.subject_id, Link("", ""))
    return TimelineRow(
        id=entry.pk,
        at=entry.at,
        actor_name=entry.actor_name,
        kind=kind.key,
        kind_label=kind.label,
        verb=entry.verb,
        summary=entry.summary,
        reason=entry.reason,
        old_state_label=state_label(entry.old_state),
        new_state_label=state_label(entry.new_state),
        work_order_id=entry.work_order_id,
        work_order_label=entry.work_order.label if entry.work_order else "",
        link_text=link.text,
        href=link.href,
    )


def _kinds() -> tuple[TimelineKind, ...]:
    both = (*KINDS, *registry.timeline_kinds())
    return tuple(sorted(both, key=lambda kind: kind.order))


def _kind(key: str) -> TimelineKind:
    for kind in _kinds():
        if kind.key == key:
            return kind
    known = ", ".join(kind.key for kind in _kinds())
    raise Refusal("timeline-kind-unknown", f"The time line can show: {known}.", "kind")


def _kind_of(verb: str) -> TimelineKind:
    noun = _noun(verb)
    return next((kind for kind in _kinds() if noun in kind.nouns), OTHER)


def _noun(verb: str) -> str:
    return verb.partition(".")[0]
