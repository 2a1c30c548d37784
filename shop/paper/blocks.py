"""What stands on a sheet of paper: blocks that a template prints without thought.

Every text is final: amounts, dates and hours are printed before they get here, so
that two sheets with the same words are the same paper.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from shop import seams


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
    """One cell of a table; a number is set flush right in tabular figures."""

    text: str
    number: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table whose head is repeated on each page; the foot holds its sum."""

    caption: str
    head: tuple[Cell, ...]
    rows: tuple[tuple[Cell, ...], ...]
    foot: tuple[Cell, ...] = ()
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
    """Return a table whose cells know whether their column holds numbers."""

    def cells(texts: tuple[str, ...]) -> tuple[Cell, ...]:
        return tuple(Cell(text, at in numeric) for at, text in enumerate(texts))

    return Table(caption, cells(head), tuple(cells(row) for row in rows), cells(foot))


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
