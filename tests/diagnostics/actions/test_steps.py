"""Two hands on one case: whoever comes second thinks again."""

from collections.abc import Callable

import pytest

from diagnostics.actions.findings import record_finding
from diagnostics.actions.steps import (
    advance,
    case_row,
    demand_key,
    on_the_case_as_it_is,
)
from diagnostics.lifecycle import CaseState, Origin
from diagnostics.models import Case, Finding
from shop.domain.refusals import ConcurrentChange, NotFound, Refusal
from tests.builders import MORNING, UserFactory
from tests.diagnostics.builders import a_case, lamp

pytestmark = pytest.mark.django_db


def another_hand(case: Case, key: str) -> None:
    record_finding(
        case_id=case.pk,
        entry=lamp("horn.1", "lit"),
        origin=Origin.FREE,
        key=key,
        acting_user=UserFactory.create(),
        at=MORNING,
    )


def test_a_write_on_what_has_changed_meanwhile_is_thought_through_again() -> None:
    case = a_case()
    seen: list[int] = []

    def think() -> Callable[[], int]:
        row = case_row(case.pk)
        seen.append(row.step)
        if len(seen) == 1:
            another_hand(case, "quicker")

        def write() -> int:
            advance(row, steps=1, findings=1)
            return row.step + 1

        return write

    assert on_the_case_as_it_is(think) == 2
    assert seen == [0, 1]
    assert Case.objects.get(pk=case.pk).step == 2


def test_a_case_that_never_stands_still_is_a_refusal_and_nothing_is_written() -> None:
    case = a_case()
    hands: list[str] = []

    def think() -> Callable[[], None]:
        row = case_row(case.pk)
        hands.append(f"hand-{len(hands)}")
        another_hand(case, hands[-1])
        return lambda: advance(row, findings=1)

    with pytest.raises(ConcurrentChange, match="Somebody else"):
        on_the_case_as_it_is(think)
    assert Finding.objects.of_case(case.pk).count() == len(hands)


def test_a_state_moves_only_from_where_it_was_seen() -> None:
    case = a_case()
    row = case_row(case.pk)

    def think() -> Callable[[], None]:
        return lambda: advance(row, to=CaseState.REPAIRED, repairs=1)

    on_the_case_as_it_is(think)
    with pytest.raises(ConcurrentChange):
        on_the_case_as_it_is(think)
    assert Case.objects.get(pk=case.pk).repairs_made == 1


def test_there_is_no_case_of_that_number() -> None:
    with pytest.raises(NotFound):
        case_row(10**15)


@pytest.mark.parametrize("key", ["", " ", "x" * 101, "a b", "a\x00", "ä"])
def test_a_key_is_short_and_plain(key: str) -> None:
    with pytest.raises(Refusal):
        demand_key(key)
    assert demand_key(" 3f-1/again ".replace("/", ".")) == "3f-1.again"
