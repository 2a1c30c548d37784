"""Strip tags: what is where, what the owner gets back, and what is not settled."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from shop.domain.lifecycle import ENDED, State
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.domain.strip_tags import (
    OWNERS_TO_HAVE,
    SETTLED,
    TAG_CONDITION_LABELS,
    TAG_EVENT_LABELS,
    TAG_FATE_LABELS,
    TAG_NEEDS_REASON,
    TAG_STATE_LABELS,
    WITH_OUTSIDE_WORK,
    TagCondition,
    TagEvent,
    TagFate,
    TagState,
    number_of,
    tag_moves_from,
)
from shop.models import StripTag, WorkOrder
from shop.selectors.windows import FIRST_ROWS, Listing, Window, listing

MOST_TAGS = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class StripTagRow:
    """One tag; who agreed to scrap it is empty for who may not see customers."""

    id: int
    number: int
    label: str
    code: str
    work_order_id: int
    work_order_label: str
    bike_id: int
    bike_name: str
    name: str
    place: str
    pieces: int
    condition: str
    condition_label: str
    condition_note: str
    shelf: str
    fate: str
    fate_label: str
    state: str
    state_label: str
    state_since: datetime
    where: str
    supplier_name: str
    is_settled: bool
    is_owners: bool
    is_open: bool
    taken_off_at: datetime
    consent_by_name: str
    consent_how: str
    consent_at: datetime | None


@dataclass(frozen=True, slots=True, kw_only=True)
class TagMoveOption:
    """A move that a tag may make from the shelf or the bike."""

    event: str
    label: str
    needs_reason: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class StripTagFilter:
    """Which tags are wanted; nothing set means all of them."""

    search: str = ""
    state: TagState | None = None
    unsettled_only: bool = False
    work_order_id: int | None = None
    bike_id: int | None = None


EVERY_TAG = StripTagFilter()


@dataclass(frozen=True, slots=True, kw_only=True)
class TagCounts:
    """How many tags of a work order there are, and how many of them where."""

    total: int
    unsettled: int
    on_shelf: int
    out: int
    for_owner: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StripTagsOfOrder:
    """All tags of one work order, sorted by where they are."""

    work_order_id: int
    work_order_label: str
    bike_name: str
    is_open: bool
    total: int
    unsettled: int
    rows: tuple[StripTagRow, ...]
    places: tuple[str, ...]
    shelves: tuple[str, ...]

    @property
    def owners(self) -> tuple[StripTagRow, ...]:
        """What the owner gets back, or has back already."""
        return tuple(row for row in self.rows if row.is_owners)

    def in_state(self, state: TagState) -> tuple[StripTagRow, ...]:
        """Return the rows in one state."""
        return tuple(row for row in self.rows if row.state == state.value)


def strip_tag_list(
    *,
    viewer: Viewer,
    wanted: StripTagFilter = EVERY_TAG,
    window: Window = FIRST_ROWS,
) -> Listing[StripTagRow]:
    """Return the wanted tags, the newest first."""
    viewer.demand(Act.SEE_SHOP)
    found = StripTag.objects.matching(wanted.search)
    if wanted.state is not None:
        found = found.in_state(wanted.state)
    if wanted.unsettled_only:
        found = found.unsettled()
    if wanted.work_order_id is not None:
        found = found.of_work_order(wanted.work_order_id)
    if wanted.bike_id is not None:
        found = found.of_bike(wanted.bike_id)
    return listing(
        found.with_places().latest_first(),
        window=window,
        row=lambda tag: strip_tag_row(tag, viewer),
    )


def strip_tag_page(*, tag_id: int, viewer: Viewer) -> StripTagRow:
    """Return one tag.

    Raises
    ------
    NotFound
        No such tag.
    """
    viewer.demand(Act.SEE_SHOP)
    tag = StripTag.objects.with_places().filter(pk=tag_id).first()
    if tag is None:
        raise _no_tag()
    return strip_tag_row(tag, viewer)


def tag_id_of(*, code: str, viewer: Viewer) -> int:
    """Return which tag a scanned or typed number means.

    Raises
    ------
    Refusal
        The number was copied wrong.
    NotFound
        No tag has this number.
    """
    viewer.demand(Act.SEE_SHOP)
    tag = StripTag.objects.filter(number=number_of(code)).first()
    if tag is None:
        raise _no_tag()
    return tag.pk


def strip_tags_of(*, work_order_id: int, viewer: Viewer) -> StripTagsOfOrder:
    """Return every tag of a work order, in two queries.

    Raises
    ------
    NotFound
        No such work order.
    """
    viewer.demand(Act.SEE_SHOP)
    order = WorkOrder.objects.select_related("bike").filter(pk=work_order_id).first()
    if order is None:
        raise NotFound("work-order-not-found", "There is no such work order.")
    found = StripTag.objects.of_work_order(work_order_id).with_places().by_number()
    rows = tuple(strip_tag_row(tag, viewer) for tag in found[:MOST_TAGS])
    return StripTagsOfOrder(
        work_order_id=work_order_id,
        work_order_label=order.label,
        bike_name=order.bike.name,
        is_open=State(order.state) not in ENDED,
        total=len(rows),
        unsettled=sum(not row.is_settled for row in rows),
        rows=rows,
        places=_once(row.place for row in reversed(rows)),
        shelves=_once(row.shelf for row in reversed(rows)),
    )


def tag_counts(*, work_order_id: int) -> TagCounts:
    """Return how many tags of a work order are where, in one query."""
    found = StripTag.objects.of_work_order(work_order_id).order_by()
    pairs = tuple(found.values_list("state", "fate"))
    states = [TagState(state) for state, _ in pairs]
    return TagCounts(
        total=len(pairs),
        unsettled=sum(state not in SETTLED for state in states),
        on_shelf=states.count(TagState.ON_SHELF),
        out=states.count(TagState.OUT),
        for_owner=sum(
            TagState(state) not in SETTLED and TagFate(fate) in OWNERS_TO_HAVE
            for state, fate in pairs
        ),
    )


def unsettled_tags(*, work_order_id: int) -> tuple[str, ...]:
    """Return the tags that nobody can account for yet, and where each is."""
    found = StripTag.objects.of_work_order(work_order_id).unsettled().with_places()
    return tuple(f"{tag} ({_where(tag)})" for tag in found.by_number()[:MOST_TAGS])


def moves_of(row: StripTagRow) -> tuple[TagMoveOption, ...]:
    """Return the moves that a person at the bench may make with a tag."""
    if not row.is_open:
        return ()
    return tuple(
        TagMoveOption(
            event=event.value,
            label=TAG_EVENT_LABELS[event],
            needs_reason=event in TAG_NEEDS_REASON,
        )
        for event in tag_moves_from(TagState(row.state))
        if event not in WITH_OUTSIDE_WORK
        and (event is not TagEvent.SCRAP or row.fate == TagFate.SCRAP.value)
        and (event is not TagEvent.FIT or TagFate(row.fate) not in _NOT_REFITTED)
    )


_NOT_REFITTED = OWNERS_TO_HAVE | {TagFate.SCRAP}


def strip_tag_row(tag: StripTag, viewer: Viewer) -> StripTagRow:
    """Return a tag as a row; order, bike and supplier must have been fetched."""
    state, fate = TagState(tag.state), TagFate(tag.fate)
    sees = viewer.may(Act.SEE_CUSTOMERS)
    order = tag.work_order
    return StripTagRow(
        id=tag.pk,
        number=tag.number,
        label=tag.label,
        code=tag.code,
        work_order_id=order.pk,
        work_order_label=order.label,
        bike_id=order.bike_id,
        bike_name=order.bike.name,
        name=tag.name,
        place=tag.place,
        pieces=tag.pieces,
        condition=tag.condition,
        condition_label=TAG_CONDITION_LABELS[TagCondition(tag.condition)],
        condition_note=tag.condition_note,
        shelf=tag.shelf,
        fate=tag.fate,
        fate_label=TAG_FATE_LABELS[fate],
        state=tag.state,
        state_label=TAG_STATE_LABELS[state],
        state_since=tag.state_since,
        where=_where(tag),
        supplier_name=tag.supplier.name if tag.supplier else "",
        is_settled=state in SETTLED,
        is_owners=fate in OWNERS_TO_HAVE or state is TagState.WITH_OWNER,
        is_open=State(order.state) not in ENDED,
        taken_off_at=tag.taken_off_at,
        consent_by_name=tag.consent_by_name if sees else "",
        consent_how=tag.consent_how,
        consent_at=tag.consent_at,
    )


def _where(tag: StripTag) -> str:
    if tag.state == TagState.OUT.value and tag.supplier:
        return f"Out at {tag.supplier.name}"
    if tag.state == TagState.ON_SHELF.value:
        return f"Shelf {tag.shelf}" if tag.shelf else "Shelf not said"
    return TAG_STATE_LABELS[TagState(tag.state)]


def _once(texts: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(text for text in texts if text))


def _no_tag() -> NotFound:
    return NotFound("tag-not-found", "There is no such tag.", "code")
