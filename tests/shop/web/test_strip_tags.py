"""Tagging at the bench with one hand, and finding what is where."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from shop.domain.roles import Role
from shop.models import StripTag
from tests.builders import (
    MORNING,
    OutsideWorkFactory,
    StripTagFactory,
    WorkOrderFactory,
)
from tests.shop.web.pages import (
    as_role,
    error_at,
    html,
    no_query_while_rendering,
    queries_of,
    url,
    words,
)

pytestmark = pytest.mark.django_db
WHEEL = {
    "name": "Rear wheel",
    "place": "Rear",
    "shelf": "B3",
    "pieces": "1",
    "condition": "worn",
    "fate": "refit",
}


@pytest.fixture
def bench() -> Client:
    return as_role(Role.TECHNICIAN)


def test_one_part_after_another_keeps_place_and_shelf(bench: Client) -> None:
    order = WorkOrderFactory.create()
    address = url("strip_tag_add", order.pk)
    answer = bench.post(address, {**WHEEL, "another": "yes"})
    assert answer.headers["Location"] == f"{address}?place=Rear&shelf=B3"
    page = bench.get(answer.headers["Location"])
    assert 'value="B3"' in html(page)
    assert "1 tagged so far, the last one T-1001-9 Rear wheel" in words(page)
    done = bench.post(address, {**WHEEL, "name": "Chain guard", "done": "yes"})
    assert done.headers["Location"] == url("strip_tags_of", order.pk)
    assert StripTag.objects.count() == 2


def test_scrap_without_consent_and_a_bad_photo_stand_at_their_fields(
    bench: Client,
) -> None:
    address = url("strip_tag_add", WorkOrderFactory.create().pk)
    answer = bench.post(address, {**WHEEL, "fate": "scrap"})
    assert answer.status_code == 422
    assert "Enter the name of who agreed" in error_at(answer, "consent_by_name")
    assert 'value="Rear wheel"' in html(answer)
    photo = SimpleUploadedFile("wheel.jpg", b"no picture at all")
    answer = bench.post(address, {**WHEEL, "photo": photo})
    assert answer.status_code == 422
    assert error_at(answer, "photo")
    assert not StripTag.objects.exists()


@pytest.mark.parametrize("pieces", ["", "0", "x", "1000", "1e3"])
def test_a_count_that_is_none_stands_at_its_field(bench: Client, pieces: str) -> None:
    address = url("strip_tag_add", WorkOrderFactory.create().pk)
    answer = bench.post(address, {**WHEEL, "pieces": pieces})
    assert answer.status_code == 422
    assert error_at(answer, "pieces")


def test_a_scanned_label_opens_its_tag_and_a_miscopied_one_says_so(
    bench: Client,
) -> None:
    tag = StripTagFactory.create()
    answer = bench.get(url("strip_tag_scan", tag.code))
    assert answer.headers["Location"] == url("strip_tag", tag.pk)
    wrong = bench.get(url("strip_tag_scan", "5742"))
    assert wrong.status_code == 400
    assert "two are swapped" in words(wrong)
    assert bench.get(url("strip_tag_scan", "nonsense")).status_code == 400


def test_a_phone_that_is_not_signed_in_is_asked_to_sign_in_first() -> None:
    tag = StripTagFactory.create()
    answer = Client().get(url("strip_tag_scan", tag.code))
    assert answer.status_code == 302
    assert f"next=/t/{tag.code}/" in answer.headers["Location"]


def test_a_whole_number_in_the_search_opens_the_tag(bench: Client) -> None:
    tag = StripTagFactory.create(name="Saddle")
    answer = bench.get(url("strip_tags"), {"q": tag.label})
    assert answer.headers["Location"] == url("strip_tag", tag.pk)
    assert "Saddle" in words(bench.get(url("strip_tags"), {"q": "sadd"}))


def test_the_ticked_tags_are_fitted_together(bench: Client) -> None:
    order = WorkOrderFactory.create()
    tags = StripTagFactory.create_batch(3, work_order=order)
    answer = bench.post(
        url("strip_tags_move", order.pk),
        {"tag_ids": [tag.pk for tag in tags], "tag_event": "fit"},
        follow=True,
    )
    assert "All 3 are accounted for." in words(answer)
    none = bench.post(url("strip_tags_move", order.pk), {"tag_event": "fit"})
    assert none.status_code == 400
    unknown = bench.post(url("strip_tags_move", order.pk), {"tag_event": "send_out"})
    assert unknown.status_code == 404


def test_a_tag_is_corrected_decided_on_and_taken_off_again(bench: Client) -> None:
    tag = StripTagFactory.create(state="on_bike")
    moved = bench.post(
        url("strip_tag_move", tag.pk, "take_off_again"),
        {"reason": "Fouls the guard", "shelf": "C1"},
        follow=True,
    )
    assert "taken off again" in words(moved)
    refused = bench.post(url("strip_tag_move", tag.pk, "take_off_again"), {})
    assert error_at(refused, "reason")
    fate = bench.post(url("strip_tag_fate", tag.pk), {"fate": "return"}, follow=True)
    assert "return to the owner" in words(fate)
    edited = bench.post(
        url("strip_tag_edit", tag.pk),
        {**WHEEL, "name": "Front wheel", "initial-name": tag.name},
        follow=True,
    )
    assert "Front wheel" in words(edited)


def test_what_the_owner_gets_back_stands_on_one_list(bench: Client) -> None:
    order = WorkOrderFactory.create()
    StripTagFactory.create(work_order=order, name="Old silencer", fate="return")
    page = words(bench.get(url("strip_tags_of", order.pk)))
    assert "Old silencer" in page.split("What the owner gets back")[1]


def test_the_storekeeper_does_not_read_who_agreed() -> None:
    tag = StripTagFactory.create(
        fate="scrap", consent_by_name="Ada Fenn", consent_at=MORNING
    )
    page = as_role(Role.STOREKEEPER).get(url("strip_tag", tag.pk))
    assert "Ada Fenn" not in words(page)


def test_the_ticket_counts_its_tags_and_names_its_outside_work(bench: Client) -> None:
    order = WorkOrderFactory.create()
    StripTagFactory.create_batch(2, work_order=order)
    OutsideWorkFactory.create(work_order=order)
    page = words(bench.get(url("work_order", order.pk)))
    assert "2 parts or bags taken off" in page
    assert "Rims stripped and chromed" in page


def test_many_tags_take_no_more_queries_and_rendering_takes_none(
    bench: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    order = WorkOrderFactory.create()
    for name, arguments in (("strip_tags", ()), ("strip_tags_of", (order.pk,))):
        address = url(name, *arguments)
        StripTagFactory.create_batch(2, work_order=order)
        few = queries_of(bench, address)
        StripTagFactory.create_batch(12, work_order=order)
        assert queries_of(bench, address) == few
        with no_query_while_rendering(monkeypatch):
            bench.get(address)
