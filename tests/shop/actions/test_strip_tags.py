"""Parts come off, get a tag, a fate and a place, and none is lost on the way."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import IntegrityError, transaction

from shop.actions.moves import move_work_order
from shop.actions.strip_tags import (
    Handling,
    add_strip_tag,
    decide_fate,
    edit_strip_tag,
    move_strip_tags,
)
from shop.domain.lifecycle import Event
from shop.domain.refusals import IllegalMove, NotFound, Refusal
from shop.domain.strip_tags import Consent, TagDetails, TagEvent, TagState
from shop.domain.work_orders import Particulars
from shop.models import HistoryEntry, StripTag
from tests.builders import (
    MORNING,
    OutsideWorkFactory,
    OwnerFactory,
    StripTagFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db
AGREED = Consent(by_name="Ada Fenn", how="by telephone")
WHEEL = TagDetails(name="Rear wheel", place="Rear", shelf="B3")


def states(*tags: StripTag) -> list[str]:
    for tag in tags:
        tag.refresh_from_db()
    return [tag.state for tag in tags]


def test_a_part_gets_the_next_number_and_its_place_in_history() -> None:
    order, person = WorkOrderFactory(), UserFactory()
    first, second = (
        add_strip_tag(
            work_order_id=order.pk, details=WHEEL, acting_user=person, at=MORNING
        )
        for _ in range(2)
    )
    assert (first.label, second.label) == ("T-1001-9", "T-1002-4")
    assert states(first) == [TagState.ON_SHELF]
    assert HistoryEntry.objects.of_work_order(order.pk).earliest("pk").summary == (
        "T-1001-9 Rear wheel taken off, Rear"
    )


def test_nothing_is_tagged_for_scrap_without_the_customers_consent() -> None:
    order, person = WorkOrderFactory(), UserFactory()
    with pytest.raises(Refusal) as refused:
        add_strip_tag(
            work_order_id=order.pk,
            details=WHEEL,
            fate="scrap",
            acting_user=person,
            at=MORNING,
        )
    assert refused.value.field == "consent_by_name"
    tag = add_strip_tag(
        work_order_id=order.pk,
        details=WHEEL,
        fate="scrap",
        consent=AGREED,
        acting_user=person,
        at=MORNING,
    )
    assert (tag.consent_by_name, tag.consent_at) == ("Ada Fenn", MORNING)


def test_a_photo_that_is_none_leaves_no_tag_behind() -> None:
    with pytest.raises(Refusal) as refused, transaction.atomic():
        add_strip_tag(
            work_order_id=WorkOrderFactory().pk,
            details=WHEEL,
            photo=SimpleUploadedFile("wheel.jpg", b"not a picture"),
            acting_user=OwnerFactory(),
            at=MORNING,
        )
    assert refused.value.field == "file"
    assert not StripTag.objects.exists()


def test_the_database_lets_nothing_be_scrapped_without_consent() -> None:
    tag = StripTagFactory()
    for wrong in ({"state": "scrapped"}, {"fate": "scrap"}, {"state": "out"}):
        with pytest.raises(IntegrityError), transaction.atomic():
            StripTag.objects.filter(pk=tag.pk).update(**wrong)


def test_a_tag_moved_to_another_shelf_says_so() -> None:
    tag = StripTagFactory()
    edit_strip_tag(
        tag_id=tag.pk, changes={"shelf": "C1"}, acting_user=UserFactory(), at=MORNING
    )
    assert HistoryEntry.objects.get().summary == f"{tag} moved to C1"


def test_a_fate_is_decided_and_undecided() -> None:
    tag, person = StripTagFactory(), UserFactory()
    decide_fate(
        tag_id=tag.pk, fate="scrap", consent=AGREED, acting_user=person, at=MORNING
    )
    done = decide_fate(tag_id=tag.pk, fate="refit", acting_user=person, at=MORNING)
    assert (done.fate, done.consent_by_name, done.consent_at) == ("refit", "", None)


def test_many_are_moved_together_or_none_of_them() -> None:
    order, person = WorkOrderFactory(), UserFactory()
    good = StripTagFactory(work_order=order)
    owners = StripTagFactory(work_order=order, fate="return")
    with pytest.raises(IllegalMove) as refused, transaction.atomic():
        move_strip_tags(
            tag_ids=[good.pk, owners.pk],
            event=TagEvent.FIT,
            acting_user=person,
            at=MORNING,
        )
    assert owners.label in refused.value.message
    assert states(good, owners) == ["on_shelf", "on_shelf"]
    move_strip_tags(
        tag_ids=[good.pk, owners.pk],
        event=TagEvent.GIVE_BACK,
        acting_user=person,
        at=MORNING,
    )
    assert states(good, owners) == ["with_owner", "with_owner"]


def test_what_is_fitted_can_come_off_again_with_a_reason_and_a_shelf() -> None:
    tag, person = StripTagFactory(state="on_bike"), UserFactory()
    move_strip_tags(
        tag_ids=[tag.pk],
        event=TagEvent.TAKE_OFF_AGAIN,
        handling=Handling(reason="fouls the chain guard", shelf="B4"),
        acting_user=person,
        at=MORNING,
    )
    assert (states(tag), tag.shelf) == (["on_shelf"], "B4")
    assert HistoryEntry.objects.get().reason == "fouls the chain guard"


def test_a_supplier_gets_parts_through_outside_work_alone() -> None:
    with pytest.raises(IllegalMove) as refused:
        move_strip_tags(
            tag_ids=[StripTagFactory().pk],
            event=TagEvent.SEND_OUT,
            acting_user=UserFactory(),
            at=MORNING,
        )
    assert refused.value.code == "outside-work-moves-it"


@pytest.mark.parametrize("tag_ids", [[], [404], [10**30]])
def test_tags_that_are_none_are_refused(tag_ids: list[int]) -> None:
    with pytest.raises((Refusal, NotFound)):
        move_strip_tags(
            tag_ids=tag_ids, event=TagEvent.FIT, acting_user=UserFactory(), at=MORNING
        )


@pytest.mark.parametrize(
    ("state", "event"), [("ready", Event.HAND_OVER), ("waiting", Event.CALL_OFF)]
)
def test_a_work_order_does_not_end_while_a_part_lies_about(
    state: str, event: Event
) -> None:
    order, owner = WorkOrderFactory(state=state), OwnerFactory()
    lost = StripTagFactory(work_order=order)
    StripTagFactory(work_order=order, state="on_bike")
    work = OutsideWorkFactory(work_order=order, state="back", sent_on=MORNING.date())
    why = Particulars(reason="The customer sold it")
    with pytest.raises(IllegalMove) as refused:
        move_work_order(
            work_order_id=order.pk,
            event=event,
            particulars=why,
            acting_user=owner,
            at=MORNING,
        )
    assert refused.value.code == "not-accounted-for"
    assert f"{lost} (Shelf B3)" in refused.value.message
    assert "its cost is not entered" in refused.value.message
    move_strip_tags(
        tag_ids=[lost.pk], event=TagEvent.GIVE_BACK, acting_user=owner, at=MORNING
    )
    work.cost_amount = 1
    work.save(update_fields=["cost_amount"])
    move_work_order(
        work_order_id=order.pk,
        event=event,
        particulars=why,
        acting_user=owner,
        at=MORNING,
    )
    order.refresh_from_db()
    assert order.ended_at == MORNING


def test_the_tags_of_an_ended_work_order_rest() -> None:
    tag = StripTagFactory(work_order=WorkOrderFactory(state="closed"), state="on_bike")
    with pytest.raises(IllegalMove):
        edit_strip_tag(
            tag_id=tag.pk, changes={"shelf": "C"}, acting_user=UserFactory(), at=MORNING
        )
