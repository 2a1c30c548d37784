"""What is where, what the owner gets back, and what nobody can account for."""

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.domain.refusals import NotFound, Refusal
from shop.domain.strip_tags import TagState
from shop.selectors.strip_tags import (
    StripTagFilter,
    moves_of,
    strip_tag_list,
    strip_tag_page,
    strip_tags_of,
    tag_counts,
    tag_id_of,
    unsettled_tags,
)
from tests.builders import (
    MORNING,
    StorekeeperFactory,
    StripTagFactory,
    SupplierFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db


def test_each_tag_says_where_its_part_is() -> None:
    order, viewer = WorkOrderFactory(), UserFactory().as_viewer()
    for made in (
        {"shelf": "B3"},
        {"shelf": ""},
        {"state": "out", "supplier": SupplierFactory(name="Oxbow Platers")},
        {"state": "on_bike"},
    ):
        StripTagFactory(work_order=order, **made)
    found = strip_tags_of(work_order_id=order.pk, viewer=viewer)
    assert [row.where for row in found.rows] == [
        "Shelf B3",
        "Shelf not said",
        "Out at Oxbow Platers",
        "Back on the bike",
    ]
    assert (found.total, found.unsettled) == (4, 3)
    assert len(found.in_state(TagState.ON_SHELF)) == 2


def test_the_owner_gets_back_what_is_replaced_or_returned() -> None:
    order, viewer = WorkOrderFactory(), UserFactory().as_viewer()
    for fate in ("refit", "replace", "return"):
        StripTagFactory(work_order=order, fate=fate)
    StripTagFactory(work_order=order, state="with_owner")
    found = strip_tags_of(work_order_id=order.pk, viewer=viewer)
    assert [(row.fate, row.state) for row in found.owners] == [
        ("replace", "on_shelf"),
        ("return", "on_shelf"),
        ("refit", "with_owner"),
    ]
    counts = tag_counts(work_order_id=order.pk)
    assert (counts.total, counts.unsettled, counts.for_owner) == (4, 3, 2)


def test_unsettled_tags_are_named_with_their_place() -> None:
    tag = StripTagFactory(shelf="B3")
    StripTagFactory(work_order=tag.work_order, state="with_owner")
    assert unsettled_tags(work_order_id=tag.work_order_id) == (f"{tag} (Shelf B3)",)


def test_tags_are_found_by_word_state_and_number() -> None:
    viewer = UserFactory().as_viewer()
    wheel = StripTagFactory(name="Rear wheel")
    saddle = StripTagFactory(name="Saddle", state="on_bike")
    for wanted, found in (
        (StripTagFilter(search="wheel"), wheel),
        (StripTagFilter(search=saddle.label), saddle),
        (StripTagFilter(state=TagState.ON_BIKE), saddle),
        (StripTagFilter(unsettled_only=True), wheel),
        (StripTagFilter(bike_id=wheel.work_order.bike_id), wheel),
        (StripTagFilter(work_order_id=saddle.work_order_id), saddle),
    ):
        rows = strip_tag_list(viewer=viewer, wanted=wanted).rows
        assert [row.id for row in rows] == [found.pk], wanted


def test_a_scanned_number_means_one_tag() -> None:
    tag, viewer = StripTagFactory(), StorekeeperFactory().as_viewer()
    assert tag_id_of(code=tag.code, viewer=viewer) == tag.pk
    with pytest.raises(NotFound):
        tag_id_of(code="5724", viewer=viewer)
    with pytest.raises(Refusal):
        tag_id_of(code=f"{tag.number}{(int(tag.code[-1]) + 1) % 10}", viewer=viewer)


def test_only_moves_that_will_not_be_refused_are_offered() -> None:
    viewer = UserFactory().as_viewer()
    consent = {"consent_by_name": "Ada Fenn", "consent_at": MORNING}
    for made, offered in (
        ({}, ["fit", "give_back"]),
        ({"fate": "return"}, ["give_back"]),
        ({"fate": "scrap", **consent}, ["give_back", "scrap"]),
        ({"state": "out", "supplier": SupplierFactory()}, []),
        ({"state": "on_bike"}, ["take_off_again"]),
        ({"work_order": WorkOrderFactory(state="closed")}, []),
    ):
        tag = StripTagFactory(**made)
        row = strip_tag_page(tag_id=tag.pk, viewer=viewer)
        assert [move.event for move in moves_of(row)] == offered, made


def test_who_agreed_is_told_only_to_who_may_see_customers() -> None:
    tag = StripTagFactory(fate="scrap", consent_by_name="Ada Fenn", consent_at=MORNING)
    keeper = strip_tag_page(tag_id=tag.pk, viewer=StorekeeperFactory().as_viewer())
    technician = strip_tag_page(tag_id=tag.pk, viewer=UserFactory().as_viewer())
    assert (keeper.consent_by_name, technician.consent_by_name) == ("", "Ada Fenn")


def test_a_bike_in_many_pieces_costs_no_more_queries(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    order, viewer = WorkOrderFactory(), UserFactory().as_viewer()
    for size in (1, 12):
        StripTagFactory.create_batch(size, work_order=order)
        with django_assert_num_queries(2):
            strip_tags_of(work_order_id=order.pk, viewer=viewer)
        with django_assert_num_queries(2):
            strip_tag_list(viewer=viewer)
