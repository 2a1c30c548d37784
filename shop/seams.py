"""Seams: where another app adds to a work order without the shop knowing it.

Another app registers, in its `AppConfig.ready`:

- a *panel*: a summary shown on the work-order page;
- *report sections*: what goes into the work order's report, as plain blocks;
- *closing blockers*: reasons against calling the work order ready;
- *kinds of the time line*: which acts of its own a bike's time line can be
  narrowed to, and where each leads;
- *looms*: which drawing a bike's loom was last worked with.

    seams.registry.register_panel("cases", cases_panel)

The shop asks the registry; with nothing registered it works alone.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Protocol, TypeVar

from shop.domain.roles import Viewer

Maker = TypeVar("Maker")


@dataclass(frozen=True, slots=True)
class Link:
    """A place to go, with the words that lead there."""

    text: str
    href: str


@dataclass(frozen=True, slots=True)
class PanelRow:
    """One line of a panel: what it is, how it stands, where it leads."""

    label: str
    text: str
    href: str = ""
    mark: str = ""  # a short word for the state, e.g. "open", "proven"


@dataclass(frozen=True, slots=True)
class Panel:
    """A summary on the work-order page."""

    key: str
    title: str
    rows: tuple[PanelRow, ...] = ()
    empty_text: str = ""  # what to do next where there are no rows
    links: tuple[Link, ...] = ()  # the first is the main one


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading inside a section."""

    text: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text."""

    text: str


@dataclass(frozen=True, slots=True)
class BulletList:
    """Short items, in order."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table whose head is repeated on each page.

    `numeric` holds the indexes of columns that are set flush right in tabular
    figures; each row has as many cells as the head.
    """

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numeric: tuple[int, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a ragged table."""
        for row in self.rows:
            if len(row) != len(self.head):
                raise ValueError(
                    f"table {self.caption!r}: a row has {len(row)} cells, "
                    f"the head {len(self.head)}"
                )


@dataclass(frozen=True, slots=True)
class Caution:
    """What can hurt somebody, in plain words."""

    text: str


Block = Heading | Paragraph | BulletList | Table | Caution


@dataclass(frozen=True, slots=True)
class ReportSection:
    """A section of the work order's report; `order` sorts it among the others.

    The report's own sections stand at 10 (bike and complaint), 50 (work and
    labour), 60 (parts), 70 (sums) and 90 (cautions and deferrals).
    """

    key: str
    title: str
    order: int
    blocks: tuple[Block, ...]


class PanelMaker(Protocol):
    """Makes the panel of one work order for one viewer; None hides it."""

    def __call__(self, *, work_order_id: int, viewer: Viewer) -> Panel | None:
        """Return the panel."""


class SectionMaker(Protocol):
    """Makes the report sections of one work order."""

    def __call__(self, *, work_order_id: int) -> Sequence[ReportSection]:
        """Return the sections, none where there is nothing to say."""


class BlockerMaker(Protocol):
    """Gives the reasons against calling one work order ready."""

    def __call__(self, *, work_order_id: int) -> Sequence[str]:
        """Return whole sentences that say what is open and what mends it."""


class SubjectLinker(Protocol):
    """Says where the subjects of history entries are shown."""

    def __call__(self, *, subject_ids: Sequence[int]) -> Mapping[int, Link]:
        """Return a link for each subject that has a page, in one query at most."""


@dataclass(frozen=True, slots=True)
class TimelineKind:
    """A sort of acts on a bike's time line.

    `nouns` are the first words of the verbs that belong to it (``case`` of
    ``case.opened``); `order` sorts it among the others.
    """

    key: str
    label: str
    nouns: tuple[str, ...]
    order: int
    links: SubjectLinker | None = None


@dataclass(frozen=True, slots=True)
class Loom:
    """A drawing of a bike's loom, and when it was last worked with."""

    text: str
    href: str
    used_at: datetime


class LoomMaker(Protocol):
    """Names the drawing that one bike was last worked with; None for none."""

    def __call__(self, *, bike_id: int) -> Loom | None:
        """Return the drawing."""


@dataclass(slots=True)
class Registry:
    """Who adds what, by key; the order is that of the keys."""

    _panels: dict[str, PanelMaker] = field(default_factory=dict)
    _sections: dict[str, SectionMaker] = field(default_factory=dict)
    _blockers: dict[str, BlockerMaker] = field(default_factory=dict)
    _kinds: dict[str, TimelineKind] = field(default_factory=dict)
    _looms: dict[str, LoomMaker] = field(default_factory=dict)

    def register_panel(self, key: str, maker: PanelMaker) -> None:
        """Add a panel to every work-order page."""
        _put(self._panels, key, maker)

    def register_sections(self, key: str, maker: SectionMaker) -> None:
        """Add sections to every work-order report."""
        _put(self._sections, key, maker)

    def register_blockers(self, key: str, maker: BlockerMaker) -> None:
        """Let somebody say that a work order is not ready."""
        _put(self._blockers, key, maker)

    def register_timeline_kind(self, kind: TimelineKind) -> None:
        """Let a bike's time line be narrowed to some acts."""
        _put(self._kinds, kind.key, kind)

    def register_looms(self, key: str, maker: LoomMaker) -> None:
        """Let every bike's page name its drawing."""
        _put(self._looms, key, maker)

    def timeline_kinds(self) -> tuple[TimelineKind, ...]:
        """Return the kinds that were added, in their order."""
        return tuple(sorted(self._kinds.values(), key=lambda kind: kind.order))

    def looms(self, *, bike_id: int) -> tuple[Loom, ...]:
        """Return the drawings of a bike's loom, sorted by key."""
        made = (maker(bike_id=bike_id) for _, maker in sorted(self._looms.items()))
        return tuple(loom for loom in made if loom is not None)

    def panels(self, *, work_order_id: int, viewer: Viewer) -> tuple[Panel, ...]:
        """Return the panels of a work order, sorted by key."""
        made = (
            maker(work_order_id=work_order_id, viewer=viewer)
            for _, maker in sorted(self._panels.items())
        )
        return tuple(panel for panel in made if panel is not None)

    def sections(self, *, work_order_id: int) -> tuple[ReportSection, ...]:
        """Return the report sections of a work order, sorted by order and key."""
        found = [
            section
            for _, maker in sorted(self._sections.items())
            for section in maker(work_order_id=work_order_id)
        ]
        return tuple(sorted(found, key=lambda section: (section.order, section.key)))

    def blockers(self, *, work_order_id: int) -> tuple[str, ...]:
        """Return all reasons against calling the work order ready."""
        return tuple(
            reason
            for _, maker in sorted(self._blockers.items())
            for reason in maker(work_order_id=work_order_id)
        )

    def unregister(self, key: str) -> None:
        """Take away whatever stands under the key."""
        self._panels.pop(key, None)
        self._sections.pop(key, None)
        self._blockers.pop(key, None)
        self._kinds.pop(key, None)
        self._looms.pop(key, None)

    def clear(self) -> None:
        """Take away everything."""
        self._panels.clear()
        self._sections.clear()
        self._blockers.clear()
        self._kinds.clear()
        self._looms.clear()


def _put(table: dict[str, Maker], key: str, maker: Maker) -> None:
    if key in table and table[key] is not maker:
        raise ValueError(f"{key!r} is registered already")
    table[key] = maker


registry = Registry()
