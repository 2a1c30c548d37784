"""The final check of a work order, and the shop's own list of points."""

from dataclasses import dataclass
from datetime import datetime

from shop.domain.check_lists import ANSWER_LABELS, PASSED, Answer
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import CheckItem, CheckPoint


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckItemRow:
    """One point of a round: what was found, by whom and when."""

    id: int
    work_order_id: int
    round_number: int
    text: str
    caution: str
    answer: str
    answer_label: str
    note: str
    answered_by_name: str
    answered_at: datetime | None
    is_passed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckPointRow:
    """One point of the shop's own list."""

    id: int
    position: int
    text: str
    caution: str


def check_item_rows(*, work_order_id: int, viewer: Viewer) -> tuple[CheckItemRow, ...]:
    """Return the points of the round that counts, in one query; none before it."""
    viewer.demand(Act.SEE_SHOP)
    found = CheckItem.objects.standing_on(work_order_id)
    return tuple(
        check_item_row(item)
        for item in found.select_related("check_list", "answered_by")
    )


def check_item(*, item_id: int, viewer: Viewer) -> CheckItemRow:
    """Return one point of a round.

    Raises
    ------
    NotFound
        No such point.
    """
    viewer.demand(Act.SEE_SHOP)
    items = CheckItem.objects.select_related("check_list", "answered_by")
    found = items.filter(pk=item_id).first()
    if found is None:
        raise NotFound("check-item-not-found", "There is no such point.")
    return check_item_row(found)


def check_points(*, viewer: Viewer) -> tuple[CheckPointRow, ...]:
    """Return the shop's own points that are in use, in their order."""
    viewer.demand(Act.SEE_SHOP)
    return tuple(
        CheckPointRow(
            id=point.pk,
            position=point.position,
            text=point.text,
            caution=point.caution,
        )
        for point in CheckPoint.objects.in_use()
    )


def check_item_row(item: CheckItem) -> CheckItemRow:
    """Return a point as a row; its round and person must have been fetched with it."""
    answer = Answer(item.answer)
    return CheckItemRow(
        id=item.pk,
        work_order_id=item.check_list.work_order_id,
        round_number=item.check_list.number,
        text=item.text,
        caution=item.caution,
        answer=answer.value,
        answer_label=ANSWER_LABELS[answer],
        note=item.note,
        answered_by_name=item.answered_by.name if item.answered_by else "",
        answered_at=item.answered_at,
        is_passed=answer in PASSED,
    )
