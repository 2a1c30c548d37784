"""Rounds of the final check, inside an action that has locked the work order."""

from datetime import datetime

from shop.actions.history import Happening, record
from shop.models import CheckItem, CheckList, CheckPoint, User, WorkOrder


def lay_out_round(order: WorkOrder, *, acting_user: User, at: datetime) -> CheckList:
    """Begin a round with the points that are in use; one that stands is kept."""
    standing = CheckList.objects.of_work_order(order.pk).standing().first()
    if standing is not None:
        return standing
    last = CheckList.objects.of_work_order(order.pk).first()
    number = last.number + 1 if last else 1
    made = CheckList.objects.create(work_order=order, number=number, made_at=at)
    points = CheckPoint.objects.in_use()
    items = CheckItem.objects.bulk_create(
        CheckItem(
            check_list=made, position=place, text=point.text, caution=point.caution
        )
        for place, point in enumerate(points, start=1)
    )
    record(
        Happening(
            verb="check_list.laid_out",
            kind="check_list",
            subject_id=made.pk,
            work_order_id=order.pk,
            summary=f"Final check, round {number}: {len(items)} points",
        ),
        acting_user=acting_user,
        at=at,
    )
    return made


def end_round(order: WorkOrder, *, at: datetime) -> None:
    """Keep the standing round as it is; what was ticked must be looked at again."""
    CheckList.objects.of_work_order(order.pk).standing().update(ended_at=at)
