"""What happens on the bench stands in the work order's history."""

import pytest

from diagnostics.actions.history import note_on_case
from diagnostics.lifecycle import CaseState
from shop.models import HistoryEntry
from tests.builders import MORNING, UserFactory
from tests.diagnostics.builders import a_case

pytestmark = pytest.mark.django_db


def test_a_move_is_told_in_the_words_of_both_states() -> None:
    case = a_case()
    note_on_case(
        case,
        verb="repair.recorded",
        summary="Repair recorded: new wire",
        acting_user=UserFactory.create(first_name="Ada", last_name=""),
        at=MORNING,
        reason="  As found. ",
        to=CaseState.REPAIRED,
    )
    entry = HistoryEntry.objects.of_work_order(case.work_order_id).latest_first()[0]
    assert (entry.subject_kind, entry.subject_id) == ("case", case.pk)
    assert (entry.actor_name, entry.reason) == ("Ada", "As found.")
    assert entry.changes == {"state": ["Open", "Repaired, proof wanted"]}
