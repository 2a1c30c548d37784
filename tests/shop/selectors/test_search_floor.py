"""Tags, tasks and outside work: found by what is written on their labels."""

import pytest

from shop.domain.roles import Role
from shop.domain.search import Wanted
from shop.domain.strip_tags import tag_label
from shop.models import StripTag, Task, WorkOrder
from shop.selectors.search import SearchResults, search
from shop.selectors.search_floor import tag_numbers
from tests.builders import MORNING, BikeFactory, UserFactory, WorkOrderFactory

pytestmark = pytest.mark.django_db


def tag(number: int, order: WorkOrder, name: str = "Float bowl") -> StripTag:
    return StripTag.objects.create(
        number=number,
        work_order=order,
        name=name,
        shelf="B3",
        state_since=MORNING,
        taken_off_by=UserFactory(),
        taken_off_at=MORNING,
    )


def find(text: str) -> SearchResults:
    viewer = UserFactory(role=Role.STOREKEEPER.value).as_viewer()
    return search(text=text, viewer=viewer)


@pytest.mark.parametrize("typed", ["T-572-4", "t572-4", "5724", "T-572", "572"])
def test_a_tag_is_found_by_its_label_with_or_without_the_check_digit(
    typed: str,
) -> None:
    row = tag(572, WorkOrderFactory(number=9001))
    assert tag_label(572) == "T-572-4"
    exact = find(typed).only_exact
    assert exact is not None
    assert (exact.kind, exact.id) == ("strip_tag", row.pk)


def test_a_tag_whose_label_was_copied_wrong_is_not_taken_for_another() -> None:
    tag(572, WorkOrderFactory(number=9001))
    assert find("T-572-5").only_exact is None
    assert tag_numbers(Wanted.of("T-572-5")) == (5725,)


def test_a_bag_is_found_by_what_it_holds_and_off_which_bike() -> None:
    bike = BikeFactory(maker="Tarnfell", model="Heron", frame_number="HX 350-0417")
    order = WorkOrderFactory(bike=bike)
    tag(1, order)
    tag(2, WorkOrderFactory(bike=BikeFactory(maker="Tarnfell", model="Plover")))
    found = {g.kind: g.hits for g in find("heron bowl").groups}
    assert [hit.title for hit in found["strip_tag"]] == [f"{tag_label(1)} Float bowl"]
    assert "shelf B3" in found["strip_tag"][0].detail


def test_a_task_leads_to_its_work_order() -> None:
    order = WorkOrderFactory()
    Task.objects.create(
        work_order=order,
        operation="True the rear wheel",
        position=1,
        state_since=MORNING,
        created_at=MORNING,
        optimistic_hours=1,
        likely_hours=2,
        pessimistic_hours=3,
    )
    (group,) = find("rear wheel").groups
    assert (group.kind, group.hits[0].page_id) == ("task", order.pk)
