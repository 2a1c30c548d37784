"""Find anything: whole and partial numbers, words in any order, by what one may see."""

import pytest

from shop.domain.roles import Role
from shop.models import User
from shop.selectors.search import SearchResults, search
from tests.builders import (
    BikeFactory,
    CustomerFactory,
    PartFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db


def person(role: Role) -> User:
    return UserFactory(role=role.value)


def find(text: str, role: Role = Role.OWNER) -> SearchResults:
    return search(text=text, viewer=person(role).as_viewer())


def titles(found: SearchResults) -> list[str]:
    return [hit.title for group in found.groups for hit in group.hits]


def kinds(found: SearchResults) -> list[str]:
    return [group.kind for group in found.groups]


@pytest.mark.parametrize(
    "typed", ["0417", "350-04", "hx 350", "hx3500417", "HX 350 0417"]
)
def test_a_bike_is_found_by_a_part_of_its_frame_number(typed: str) -> None:
    BikeFactory(maker="Tarnfell", model="Heron", frame_number="HX-350 0417", year=None)
    BikeFactory(maker="Tarnfell", model="Plover", frame_number="PL-125 9000")
    assert titles(find(typed)) == ["Tarnfell Heron"]


def test_the_engine_number_finds_it_too() -> None:
    BikeFactory(maker="Tarnfell", model="Heron", engine_number="E/8812", year=None)
    assert titles(find("e8812")) == ["Tarnfell Heron"]
    assert find("e8812").only_exact is not None


def test_an_exact_number_comes_first_and_is_the_one_to_open() -> None:
    first = WorkOrderFactory(number=12, complaint="No spark.")
    WorkOrderFactory(number=120, complaint="Order 12 again: no spark.")
    found = find("wo-12")
    assert found.only_exact is not None
    assert (found.only_exact.kind, found.only_exact.id) == ("work_order", first.pk)
    assert [hit.is_exact for hit in find("12").groups[0].hits] == [True, False]


def test_two_things_with_one_number_are_both_shown_and_none_is_opened() -> None:
    WorkOrderFactory(number=77)
    PartFactory(number="77", description="Bulb holder")
    found = find("77")
    assert {"work_order", "part"} <= set(kinds(found))
    assert found.only_exact is None


def test_words_stand_in_any_order_and_over_bike_and_complaint() -> None:
    bike = BikeFactory(maker="Tarnfell", model="Heron")
    WorkOrderFactory(bike=bike, complaint="Dies when the headlamp is on")
    assert kinds(find("headlamp heron")) == ["work_order"]
    assert kinds(find("headlamp plover")) == []


def test_the_store_finds_no_customer_and_nothing_by_a_customer_s_name() -> None:
    ada = CustomerFactory(name="Ada Fenn", phone="01234 567890")
    WorkOrderFactory(bike=BikeFactory(owner=ada), customer=ada)
    assert kinds(find("fenn")) == ["work_order", "customer", "bike"]
    assert kinds(find("fenn", Role.STOREKEEPER)) == []
    shown = search(text="", viewer=person(Role.STOREKEEPER).as_viewer())
    assert shown.groups == ()


def test_the_store_is_shown_no_name_beside_what_it_may_find() -> None:
    ada = CustomerFactory(name="Ada Fenn")
    bike = BikeFactory(owner=ada, maker="Tarnfell", model="Heron")
    WorkOrderFactory(bike=bike, customer=ada)
    found = find("heron", Role.STOREKEEPER)
    assert kinds(found) == ["work_order", "bike"]
    assert not any("Fenn" in h.detail for g in found.groups for h in g.hits)


def test_a_phone_number_is_found_however_it_is_spaced() -> None:
    CustomerFactory(name="Ada Fenn", phone="01234 567-890")
    assert titles(find("01234567890")) == ["Ada Fenn"]
    assert titles(find("567890")) == ["Ada Fenn"]


@pytest.mark.parametrize("typed", ["%", "_", "\\", "'", '"', "100%", "\x00", "-", " "])
def test_signs_that_mean_something_to_a_database_mean_nothing_here(typed: str) -> None:
    BikeFactory(maker="Tarnfell", frame_number="HX 1")
    assert titles(find(typed)) == []


def test_only_so_many_of_a_kind_and_word_that_there_are_more() -> None:
    for number in range(5):
        PartFactory(number=f"EL-{number}", description="Bulb holder")
    viewer = person(Role.STOREKEEPER).as_viewer()
    (group,) = search(text="bulb", viewer=viewer, most=3).groups
    assert len(group.hits) == 3
    assert group.has_more
    (whole,) = search(text="bulb", viewer=viewer, most=5).groups
    assert not whole.has_more
