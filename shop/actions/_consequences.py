"""What a move of a work order brings with it: holds, and rounds of the final check."""

from datetime import datetime

from shop.actions._check_lists import end_round, lay_out_round
from shop.actions._holds import open_hold, release_at_end, release_whole_bike
from shop.domain.check_lists import Answer, why_incomplete
from shop.domain.holds import HoldDetails
from shop.domain.lifecycle import ENDED, GUARDED_BY_BLOCKERS, Event, State
from shop.domain.work_orders import Particulars
from shop.models import Advisory, CheckItem, Hold, Task, User, WorkOrder
from shop.seams import registry

_ALL_DONE_BEFORE = frozenset({Event.FINISH_WORK, Event.SIGN_OFF})
_BACK = frozenset({Event.FAIL_CHECK, Event.BACK_TO_BENCH})


def unfinished(order: WorkOrder, event: Event) -> tuple[str, ...]:
    """Return the open tasks, where the move wants none."""
    if event not in _ALL_DONE_BEFORE:
        return ()
    found = Task.objects.of_work_order(order.pk).still_open()
    return tuple(found.values_list("operation", flat=True))


def blockers(order: WorkOrder, event: Event) -> tuple[str, ...]:
    """Return what stands against calling the bike ready or handing it over."""
    if event not in GUARDED_BY_BLOCKERS:
        return ()
    own = (_check_list(order), _holds(order), _untold(order, event))
    told = tuple(reason for reason in own if reason)
    return (*told, *registry.blockers(work_order_id=order.pk))


def carry_through(
    order: WorkOrder,
    event: Event,
    new: State,
    given: Particulars,
    *,
    acting_user: User,
    at: datetime,
) -> None:
    """Write what goes with a move that is about to be made."""
    if event is Event.WAIT:
        details = HoldDetails(
            kind=given.hold_kind,
            detail=given.reason,
            expected_on=given.expected_on,
        )
        open_hold(order, details, acting_user=acting_user, at=at)
    if event is Event.RESUME:
        release_whole_bike(order, acting_user=acting_user, at=at)
    if event is Event.FINISH_WORK:
        lay_out_round(order, acting_user=acting_user, at=at)
    if event in _BACK:
        end_round(order, at=at)
    if new in ENDED:
        release_at_end(order, acting_user=acting_user, at=at)


def _check_list(order: WorkOrder) -> str:
    answers = CheckItem.objects.standing_on(order.pk).values_list("answer", flat=True)
    return why_incomplete(Answer(answer) for answer in answers)


def _holds(order: WorkOrder) -> str:
    held = Hold.objects.of_work_order(order.pk).standing()
    told = "; ".join(held.values_list("detail", flat=True))
    return f"Still held: {told}. Release it first." if told else ""


def _untold(order: WorkOrder, event: Event) -> str:
    if event is not Event.HAND_OVER:
        return ""
    found = Advisory.objects.of_work_order(order.pk).unsafe_and_untold()
    told = "; ".join(found.values_list("what", flat=True))
    if not told:
        return ""
    return (
        f"Not safe to ride, and the customer has not been told: {told}. "
        "Tell them, and write down how."
    )
