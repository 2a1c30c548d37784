"""What has to be settled before a work order may end."""

from shop.domain.lifecycle import GUARDED_BY_ACCOUNT, Event
from shop.models import WorkOrder
from shop.selectors.outside_work import unsettled_outside_work
from shop.selectors.strip_tags import unsettled_tags


def unaccounted(order: WorkOrder, event: Event) -> tuple[str, ...]:
    """Return the tags and the outside work that stand in the way of the event."""
    if event not in GUARDED_BY_ACCOUNT:
        return ()
    return (
        *unsettled_tags(work_order_id=order.pk),
        *unsettled_outside_work(work_order_id=order.pk),
    )
