"""What stands on a sheet of paper: blocks that a template prints without thought.

Every text is final: amounts, dates and hours are printed before they get here, so
that two sheets with the same words are the same paper.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from shop import seams

LONG_WORD = 24
"""Longer words may break anywhere, or they would push the table off the sheet."""

SHORT_TEXT = 14
"""Shorter texts stay on one line, such as a day or a verdict."""

SHORT_TABLE = 4
CROWDED_COLUMNS = 7


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading inside a section."""

    text: str
    kind: str = "heading"


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text; line breaks are kept."""

    text: str
    kind: str = "paragraph"


@dataclass(frozen=True, slots=True)
class Quote:
    """Somebody's own words, and whose they are."""

    text: str
    source: str
    kind: str = "quote"


@dataclass(frozen=True, slots=True)
class Bullets:
    """Short items, in order."""

    points: tuple[str, ...]
    kind: str = "bullets"


@dataclass(frozen=True, slots=True)
class Caution:
    """What can hurt somebody, in plain words."""

    text: str
    kind: str = "caution"


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell: `look` says how its text is set and where it may break."""

    text: str
    look: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """A table whose head is repeated on each page; the foot holds its sum.

    One that is `short` is kept on one page.
    """

    caption: str
    head: tuple[Cell, ...]
    rows: tuple[tuple[Cell, ...], ...]
    foot: tuple[Cell, ...] = ()
    short: bool = False
    kind: str = "table"


@dataclass(frozen=True, slots=True)
class Fact:
    """A name and what it is, e.g. frame number and the number."""

    name: str
    value: str


@dataclass(frozen=True, slots=True)
class Facts:
    """Facts as a two-column table; the names are its row heads."""

    caption: str
    rows: tuple[Fact, ...]
    kind: str = "facts"


@dataclass(frozen=True, slots=True)
class Sums:
    """Sums at the end of an account; the last one is what is owed."""

    caption: str
    rows: tuple[Fact, ...]
    total: Fact
    kind: str = "sums"


Block = Heading | Paragraph | Quote | Bullets | Caution | Table | Facts | Sums


@dataclass(frozen=True, slots=True)
class Section:
    """A numbered place on the paper; `order` sorts it among the others."""

    key: str
    title: str
    order: int
    blocks: tuple[Block, ...]


def table(
    caption: str,
    head: tuple[str, ...],
    rows: Iterable[tuple[str, ...]],
    *,
    numeric: tuple[int, ...] = (),
    foot: tuple[str, ...] = (),
) -> Table:
    """Return a table whose cells know how they are set."""
    crowded = len(head) > CROWDED_COLUMNS

    def cells(texts: tuple[str, ...]) -> tuple[Cell, ...]:
        return tuple(
            Cell(text, _look(text, number=at in numeric, crowded=crowded))
            for at, text in enumerate(texts)
        )

    body = tuple(cells(row) for row in rows)
    return Table(caption, cells(head), body, cells(foot), len(body) <= SHORT_TABLE)


def _look(text: str, *, number: bool, crowded: bool) -> str:
    if number:
        return "number"
    if any(len(word) > LONG_WORD for word in text.split()):
        return "breaks"
    return "" if crowded or len(text) > SHORT_TEXT else "whole"


def from_seam(section: seams.ReportSection) -> Section:
    """Return another app's section as it is printed."""
    return Section(
        key=section.key,
        title=section.title,
        order=section.order,
        blocks=tuple(_printed(block) for block in section.blocks),
    )


def _printed(block: seams.Block) -> Block:
    match block:
        case seams.Heading(text):
            return Heading(text)
        case seams.Paragraph(text):
            return Paragraph(text)
        case seams.BulletList(items):
            return Bullets(items)
        case seams.Caution(text):
            return Caution(text)
        case seams.Table(caption, head, rows, numeric):
            return table(caption, head, rows, numeric=numeric)


def count_rows(sections: Iterable[Section]) -> int:
    """Return how many table rows and list items there are to print."""
    total = 0
    for section in sections:
        for block in section.blocks:
            match block:
                case Table(rows=rows) | Facts(rows=rows):
                    total += len(rows)
                case Bullets(points=points):
                    total += len(points)
                case _:
                    total += 1
    return total
