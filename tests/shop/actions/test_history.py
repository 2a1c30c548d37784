"""Every act leaves a row that tells who, what, when and why."""

import pytest

from shop.actions.history import BY_ITSELF, Happening, record
from shop.domain.lifecycle import State
from tests.builders import MORNING, UserFactory, WorkOrderFactory

pytestmark = pytest.mark.django_db


def test_the_row_names_the_person_as_they_were_called_then() -> None:
    person = UserFactory(first_name="Mo", last_name="Hale")
    order = WorkOrderFactory()
    entry = record(
        Happening(
            verb="case.opened",
            kind="case",
            subject_id=7,
            summary="Case opened: lights fade",
            work_order_id=order.pk,
            reason="came up on the road test",
            old_state=State.ON_THE_BENCH,
            new_state=State.WAITING,
            changes={"complaint": ("dim", "dark")},
        ),
        acting_user=person,
        at=MORNING,
    )
    person.last_name = "Hale-Fenn"
    person.save()
    entry.refresh_from_db()
    assert entry.actor_name == "Mo Hale"
    assert (entry.old_state, entry.new_state) == ("on_the_bench", "waiting")
    assert entry.changes == {"complaint": ["dim", "dark"]}
    assert str(entry) == "Case opened: lights fade"


def test_what_nobody_of_the_shop_did_is_signed_by_the_program() -> None:
    happening = Happening(verb="link.opened", kind="link", subject_id=1, summary="Seen")
    entry = record(happening, acting_user=None, at=MORNING)
    assert (entry.actor, entry.actor_name) == (None, BY_ITSELF)
