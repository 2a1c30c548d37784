"""A work order is not signed off while somebody is clocked on to it."""

from datetime import timedelta
from importlib import import_module

import pytest

from shop.actions.clocks import clock_off
from shop.actions.moves import move_work_order
from shop.domain.lifecycle import Event
from shop.domain.refusals import IllegalMove
from shop.seams import registry
from tests.builders import MORNING, ClockFactory, OwnerFactory

pytestmark = pytest.mark.django_db
LATER = MORNING + timedelta(hours=1)


def test_handing_over_waits_until_the_clock_is_stopped() -> None:
    import_module("shop.selectors.clock_seams")
    assert registry.blockers(work_order_id=0) == ()
    clock = ClockFactory(task__work_order__state="ready", task__state="done")
    order_id, owner = clock.task.work_order_id, OwnerFactory()

    def hand_over() -> None:
        move_work_order(
            work_order_id=order_id,
            event=Event.HAND_OVER,
            acting_user=owner,
            at=LATER,
        )

    with pytest.raises(IllegalMove, match="stop that clock first"):
        hand_over()
    clock_off(clock_id=clock.pk, acting_user=clock.technician, at=LATER)
    hand_over()
