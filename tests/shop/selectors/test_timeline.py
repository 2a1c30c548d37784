"""Everything ever done to a bike, in one time line."""

from decimal import Decimal

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.actions.labour import add_labour
from shop.actions.odometer_readings import read_odometer
from shop.actions.ownerships import pass_on_bike
from shop.actions.part_lines import add_part_line
from shop.actions.work_orders import book_in
from shop.domain.labour import LabourEntry
from shop.domain.odometer_readings import OdometerEntry
from shop.domain.refusals import NotFound, Refusal
from shop.models import Bike, HistoryEntry
from shop.selectors.timeline import bike_timeline, timeline_kinds
from shop.selectors.windows import Window
from tests.builders import (
    MORNING,
    BikeFactory,
    CustomerFactory,
    OwnerFactory,
    PartFactory,
    StorekeeperFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db


def a_life(times: int = 1) -> Bike:
    """Return a bike that much was done to; another one beside it."""
    owner = OwnerFactory()
    bike, other = BikeFactory(), BikeFactory()
    for _ in range(times):
        for each in (bike, other):
            order = book_in(
                bike_id=each.pk, complaint="Dead", acting_user=owner, at=MORNING
            )
            add_labour(
                work_order_id=order.pk,
                entry=LabourEntry(
                    kind="repair",
                    minutes=30,
                    description="New plug",
                    reason="At the bench without a clock",
                ),
                acting_user=owner,
                at=MORNING,
            )
            add_part_line(
                work_order_id=order.pk,
                part_id=PartFactory().pk,
                quantity=Decimal(1),
                acting_user=owner,
                at=MORNING,
            )
            read_odometer(
                bike_id=each.pk,
                entry=OdometerEntry(distance=Decimal(20417), unit="miles"),
                work_order_id=order.pk,
                acting_user=owner,
                at=MORNING,
            )
    pass_on_bike(
        bike_id=bike.pk, owner_id=CustomerFactory().pk, acting_user=owner, at=MORNING
    )
    return bike


def test_work_parts_odometer_and_owners_stand_in_one_line() -> None:
    bike = a_life()
    found = bike_timeline(bike_id=bike.pk, viewer=OwnerFactory().as_viewer())
    assert [row.kind for row in found.rows] == [
        "owners",
        "odometer",
        "parts",
        "labour",
        "work_orders",
    ]
    assert found.rows[0].work_order_label == ""
    assert found.rows[-1].work_order_label.startswith("WO-")


@pytest.mark.parametrize(
    ("kind", "count"), [("labour", 2), ("parts", 2), ("odometer", 2), ("owners", 1)]
)
def test_the_line_is_narrowed_to_one_kind(kind: str, count: int) -> None:
    bike = a_life(2)
    viewer = OwnerFactory().as_viewer()
    found = bike_timeline(bike_id=bike.pk, viewer=viewer, kind=kind)
    assert {row.kind for row in found.rows} == {kind}
    assert found.total == count


def test_a_long_life_costs_no_more_queries_than_a_short_one(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    viewer = OwnerFactory().as_viewer()
    for times in (1, 6):
        bike = a_life(times)
        with django_assert_num_queries(2):
            bike_timeline(bike_id=bike.pk, viewer=viewer)


def test_pages_follow_one_another_without_a_gap() -> None:
    bike = a_life(3)
    viewer = OwnerFactory().as_viewer()
    whole = bike_timeline(bike_id=bike.pk, viewer=viewer)
    pages = [
        bike_timeline(bike_id=bike.pk, viewer=viewer, window=Window(5, start))
        for start in (0, 5, 10)
    ]
    assert [row.id for page in pages for row in page.rows] == [
        row.id for row in whole.rows
    ]


def test_who_may_see_no_customers_is_told_of_no_owner() -> None:
    bike = a_life()
    viewer = StorekeeperFactory().as_viewer()
    kinds = {row.kind for row in bike_timeline(bike_id=bike.pk, viewer=viewer).rows}
    assert kinds == {"odometer", "parts", "labour", "work_orders"}


def test_the_bench_adds_its_kind_through_the_seam() -> None:
    keys = [kind.key for kind in timeline_kinds()]
    assert keys.index("findings") == keys.index("labour") - 1


def test_a_task_is_told_in_the_words_of_its_own_states() -> None:
    order = WorkOrderFactory()
    HistoryEntry.objects.create(
        at=MORNING,
        actor_name="Mo",
        verb="task.started",
        subject_kind="task",
        subject_id=1,
        work_order=order,
        summary="Task started",
        old_state="planned",
        new_state="underway",
    )
    viewer = OwnerFactory().as_viewer()
    (row,) = bike_timeline(bike_id=order.bike_id, viewer=viewer, kind="work").rows
    assert (row.old_state_label, row.new_state_label) == ("Planned", "Underway")


def test_an_unknown_kind_says_what_there_is() -> None:
    with pytest.raises(Refusal, match="odometer"):
        bike_timeline(
            bike_id=BikeFactory().pk, viewer=OwnerFactory().as_viewer(), kind="luck"
        )


def test_an_unknown_bike_is_not_found() -> None:
    with pytest.raises(NotFound):
        bike_timeline(bike_id=404, viewer=OwnerFactory().as_viewer())
