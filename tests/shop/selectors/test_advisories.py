"""What was noticed is read with the most urgent first."""

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.actions.advisories import note_advisory, tell_advisory
from shop.domain.advisories import AdvisoryDetails
from shop.domain.refusals import NotFound
from shop.selectors.advisories import advisory, advisory_rows
from tests.builders import MORNING, UserFactory, WorkOrderFactory

pytestmark = pytest.mark.django_db


def test_what_is_unsafe_stands_first(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    order, mo = WorkOrderFactory(), UserFactory()
    made = [
        note_advisory(
            work_order_id=order.pk,
            details=AdvisoryDetails(what=urgency, place="Hub", urgency=urgency),
            acting_user=mo,
            at=MORNING,
        )
        for urgency in ("watch", "unsafe", "soon")
    ]
    tell_advisory(advisory_id=made[1].pk, how="phone", acting_user=mo, at=MORNING)
    with django_assert_num_queries(1):
        rows = advisory_rows(work_order_id=order.pk, viewer=mo.as_viewer())
    assert [row.urgency for row in rows] == ["unsafe", "soon", "watch"]
    assert [row.is_told for row in rows] == [True, False, False]
    one = advisory(advisory_id=made[0].pk, viewer=mo.as_viewer())
    assert (one.urgency_label, one.outcome_label) == ("Keep an eye on it", "Open")


def test_an_advisory_that_is_not_there_is_not_found() -> None:
    with pytest.raises(NotFound):
        advisory(advisory_id=0, viewer=UserFactory().as_viewer())
