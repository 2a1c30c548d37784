"""Find anything: one question to every noun that has said how it is found.

A noun is one entry (`search_nouns.py`, or another app in its `AppConfig.ready`):

    register(SearchedNoun(kind="bike", label="Bikes", ...))

Each is asked once, so the number of queries is that of the nouns a viewer may see.
Columns are looked through as they stand, with no table beside them that could lag
behind; see the decision in DEVELOPERS.md for what that costs.
"""

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from typing import Any

from django.db import connection
from django.db.models import Case, F, Model, Q, QuerySet, TextField, Value, When
from django.db.models.expressions import Combinable
from django.db.models.functions import Concat, Replace, Upper

from shop.domain.roles import Act, Viewer
from shop.domain.search import Wanted

MOST_HITS = 6
_BETWEEN_DIGITS = (" ", "-", "/", ".")
_RANK = "search_rank"
_TEXT = "search_text"
Beside = Callable[[str, Viewer], Q]
# What stands beside a word, asked once for all nouns that ask the same.
Asked = dict[tuple[Beside, str], Q]


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchedNoun:
    """How one noun is found and shown.

    Parameters
    ----------
    kind : str
        Its name in the API.
    url_name : str
        The page that a hit opens; it takes the id that `page_id` gives.
    act : Act
        What a viewer must be allowed to do to find it.
    rows : callable
        All rows that this viewer may see, with what title and detail need.
    columns : tuple of str
        Where words are looked for.
    customer_columns : tuple of str
        The same for those who may see customers.
    stamped : tuple of str
        Numbers that are found in part and without regard to spaces and dashes.
    beside : callable or None
        Where else a word may stand than in the row: which rows it brings in.
    counted : str
        The column of a running number, if there is one.
    numbers : callable
        Which running numbers somebody means who typed this.
    order : tuple of str
        How hits are sorted after the exact ones.
    """

    kind: str
    label: str
    url_name: str
    act: Act
    position: int
    rows: Callable[[Viewer], QuerySet[Any]]
    columns: tuple[str, ...]
    title: Callable[[Any], str]
    detail: Callable[[Any, Viewer], str]
    order: tuple[str, ...]
    customer_columns: tuple[str, ...] = ()
    stamped: tuple[str, ...] = ()
    beside: Beside | None = None
    counted: str = ""
    numbers: Callable[[Wanted], Collection[int]] = lambda _wanted: ()
    page_id: Callable[[Any], int] = lambda row: int(row.pk)
    list_url_name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """One thing found."""

    kind: str
    id: int
    page_id: int
    title: str
    detail: str
    is_exact: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class HitGroup:
    """The first things found of one kind."""

    kind: str
    label: str
    hits: tuple[Hit, ...]
    has_more: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchResults:
    """Everything found, by kind; the kinds with an exact hit come first."""

    text: str
    is_too_short: bool
    groups: tuple[HitGroup, ...]

    @property
    def only_exact(self) -> Hit | None:
        """The one thing whose number was typed, if there is one alone."""
        exact = [hit for group in self.groups for hit in group.hits if hit.is_exact]
        return exact[0] if len(exact) == 1 else None


_nouns: dict[str, SearchedNoun] = {}


def register(noun: SearchedNoun) -> None:
    """Add a noun; the same kind again replaces it."""
    _nouns[noun.kind] = noun


def searched_nouns() -> tuple[SearchedNoun, ...]:
    """Return the nouns in the order they are shown."""
    return tuple(sorted(_nouns.values(), key=lambda noun: (noun.position, noun.kind)))


def searched_noun(kind: str) -> SearchedNoun:
    """Return one noun."""
    return _nouns[kind]


def search(*, text: str, viewer: Viewer, most: int = MOST_HITS) -> SearchResults:
    """Return what this viewer may see of everything that holds all the words."""
    wanted = Wanted.of(text)
    groups = [] if wanted.is_nothing else list(_groups(wanted, viewer, most))
    groups.sort(key=lambda group: not any(hit.is_exact for hit in group.hits))
    return SearchResults(
        text=wanted.text, is_too_short=wanted.is_too_short, groups=tuple(groups)
    )


def _groups(wanted: Wanted, viewer: Viewer, most: int) -> Iterable[HitGroup]:
    asked: Asked = {}
    for noun in searched_nouns():
        if not viewer.may(noun.act):
            continue
        rows = list(_found(noun, wanted, viewer, asked)[: most + 1])
        if rows:
            yield HitGroup(
                kind=noun.kind,
                label=noun.label,
                hits=tuple(_hit(noun, row, viewer) for row in rows[:most]),
                has_more=len(rows) > most,
            )


def _hit(noun: SearchedNoun, row: Model, viewer: Viewer) -> Hit:
    return Hit(
        kind=noun.kind,
        id=int(row.pk),
        page_id=noun.page_id(row),
        title=noun.title(row),
        detail=noun.detail(row, viewer),
        is_exact=getattr(row, _RANK) == 0,
    )


def _found(
    noun: SearchedNoun, wanted: Wanted, viewer: Viewer, asked: Asked
) -> QuerySet[Any]:
    stamped = noun.stamped if wanted.has_digits else ()
    keys = {f"search_key_{n}": _key_of(name) for n, name in enumerate(stamped)}
    exact = _exactly(noun, wanted, keys)
    inside = Q() if wanted.is_too_short else _inside(noun, wanted, viewer, asked)
    for name in () if wanted.is_too_short else keys:
        inside |= Q(**{f"{name}__contains": wanted.key})
    if not exact and not inside:
        return noun.rows(viewer).none()
    text = Concat(*between(*columns_for(noun, viewer)), output_field=TextField())
    rows: QuerySet[Any] = noun.rows(viewer).alias(**keys, **{_TEXT: text})
    found: QuerySet[Any] = rows.filter(exact | inside)
    if not exact:
        # Without a rank the database may walk along the order and stop early.
        found = found.annotate(**{_RANK: Value(1)})
        return found.order_by(*noun.order)
    rank = Case(When(exact, then=Value(0)), default=Value(1))
    found = found.annotate(**{_RANK: rank})
    return found.order_by(_RANK, *noun.order)


def columns_for(noun: SearchedNoun, viewer: Viewer) -> tuple[str, ...]:
    """Return where this viewer's words are looked for."""
    if viewer.may(Act.SEE_CUSTOMERS):
        return noun.columns + noun.customer_columns
    return noun.columns


def _holds(columns: tuple[str, ...], word: str) -> Q:
    """Return the rows that hold the word, asked as each database is quickest.

    PostgreSQL has one index on all columns together; SQLite has none, and there a
    comparison for each column takes half as long as putting them together.
    """
    if connection.vendor == "postgresql":
        return Q(**{f"{_TEXT}__icontains": word})
    holds = Q()
    for column in columns:
        holds |= Q(**{f"{column}__icontains": word})
    return holds


def between(*columns: str) -> list[F | Value]:
    """Return the columns with a space after each, so that no word runs on."""
    return [piece for column in columns for piece in (F(column), Value(" "))]


def _key_of(column: str) -> Combinable:
    bare: Combinable = Upper(F(column))
    for sign in _BETWEEN_DIGITS:
        bare = Replace(bare, Value(sign), Value(""))
    return bare


def _exactly(noun: SearchedNoun, wanted: Wanted, keys: Iterable[str]) -> Q:
    exact = Q()
    for name in keys:
        exact |= Q(**{name: wanted.key})
    if numbers := noun.numbers(wanted):
        exact |= Q(**{f"{noun.counted}__in": numbers})
    return exact


def _inside(noun: SearchedNoun, wanted: Wanted, viewer: Viewer, asked: Asked) -> Q:
    inside = Q()
    for word in wanted.words:
        holds = _holds(columns_for(noun, viewer), word)
        if noun.beside is not None:
            if (noun.beside, word) not in asked:
                asked[noun.beside, word] = noun.beside(word, viewer)
            holds |= asked[noun.beside, word]
        inside &= holds
    return inside
