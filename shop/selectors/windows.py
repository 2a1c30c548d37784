"""A window on a long list: how many rows, from where, and how many there are."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

from django.db.models import Model, QuerySet

ModelT = TypeVar("ModelT", bound=Model)
Row = TypeVar("Row")

DEFAULT_LIMIT = 50
MOST_ROWS = 200
FARTHEST = 1_000_000


@dataclass(frozen=True, slots=True)
class Window:
    """Which rows of a list are wanted; anything out of range is brought into it."""

    limit: int = DEFAULT_LIMIT
    offset: int = 0

    def __post_init__(self) -> None:
        """Keep the window where a database can follow."""
        object.__setattr__(self, "limit", min(max(self.limit, 1), MOST_ROWS))
        object.__setattr__(self, "offset", min(max(self.offset, 0), FARTHEST))

    @classmethod
    def of_page(cls, page: int, *, size: int = DEFAULT_LIMIT) -> "Window":
        """Return the window of a page; pages are counted from 1."""
        return cls(limit=size, offset=(max(page, 1) - 1) * size)


FIRST_ROWS = Window()
ALL_ROWS = Window(limit=MOST_ROWS)


@dataclass(frozen=True, slots=True)
class Listing(Generic[Row]):
    """The rows in the window, and what there is around them."""

    rows: tuple[Row, ...]
    total: int
    window: Window

    @property
    def page(self) -> int:
        """Which page this is, counted from 1."""
        return self.window.offset // self.window.limit + 1

    @property
    def pages(self) -> int:
        """How many pages there are, at least 1."""
        return max(-(-self.total // self.window.limit), 1)


def listing(
    found: QuerySet[ModelT], *, window: Window, row: Callable[[ModelT], Row]
) -> Listing[Row]:
    """Return the window's rows and the total, in two queries."""
    last = window.offset + window.limit
    return Listing(
        rows=tuple(row(item) for item in found[window.offset : last]),
        total=found.order_by().count(),
        window=window,
    )
