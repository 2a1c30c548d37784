"""Serializers are read off the dataclasses that selectors return."""

from dataclasses import dataclass
from datetime import UTC, date, datetime
from decimal import Decimal

import pytest

from shop.api.shapes import page_shape, shape


@dataclass(frozen=True)
class Inner:
    """One of several."""

    name: str


@dataclass(frozen=True)
class Outer:
    """Everything that has a plain form.

    And a second paragraph.
    """

    price: Decimal
    day: date
    at: datetime | None
    inner: Inner | None
    inners: tuple[Inner, ...]
    words: tuple[str, ...]
    triples: tuple[tuple[str, str, str], ...]
    good: bool


def test_money_goes_out_as_text_with_all_its_places() -> None:
    outer = Outer(
        price=Decimal("12.40"),
        day=date(2026, 3, 2),
        at=datetime(2026, 3, 2, 8, 30, tzinfo=UTC),
        inner=Inner("a"),
        inners=(Inner("b"), Inner("c")),
        words=("d",),
        triples=(("e", "f", "g"),),
        good=True,
    )
    assert shape(Outer)(outer).data == {
        "price": "12.40",
        "day": "2026-03-02",
        "at": "2026-03-02T08:30:00Z",
        "inner": {"name": "a"},
        "inners": [{"name": "b"}, {"name": "c"}],
        "words": ["d"],
        "triples": [["e", "f", "g"]],
        "good": True,
    }


def test_a_shape_is_made_once_and_described_by_its_dataclass() -> None:
    assert shape(Outer) is shape(Outer)
    assert shape(Outer).__doc__ == "Everything that has a plain form."
    assert set(page_shape(Inner)().fields) == {"count", "next", "previous", "results"}


def test_what_has_no_plain_form_is_a_mistake_of_the_program() -> None:
    @dataclass(frozen=True)
    class Odd:
        """Cannot go out."""

        things: dict[str, str]

    with pytest.raises(TypeError, match="no plain form"):
        shape(Odd)
    with pytest.raises(TypeError, match="not a dataclass"):
        shape(int)
