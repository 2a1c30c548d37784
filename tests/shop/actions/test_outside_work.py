"""Parts go to a supplier and come back, each checked; nothing is lost between."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from shop.actions.outside_work import (
    Dispatch,
    book_back,
    choose_tags,
    drop_outside_work,
    edit_outside_work,
    plan_outside_work,
    send_again,
    send_outside_work,
)
from shop.domain.outside_work import OutsideDetails, TagCheck
from shop.domain.refusals import IllegalMove, NotAllowed, NotFound, Refusal
from shop.models import (
    HistoryEntry,
    OutsideTag,
    OutsideWork,
    StripTag,
    Supplier,
    User,
)
from tests.builders import (
    MORNING,
    OwnerFactory,
    StorekeeperFactory,
    StripTagFactory,
    SupplierFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db


def plated(supplier: Supplier) -> OutsideDetails:
    return OutsideDetails(
        supplier_id=supplier.pk,
        trade="plating",
        description="Rims chromed",
        promised_on=date(2026, 3, 20),
        quote_amount=Decimal(80),
        markup_percent=Decimal(15),
    )


def planned(*tags: StripTag, keeper: User | None = None) -> OutsideWork:
    order = tags[0].work_order if tags else WorkOrderFactory()
    return plan_outside_work(
        work_order_id=order.pk,
        details=plated(SupplierFactory()),
        tag_ids=[tag.pk for tag in tags],
        acting_user=keeper or StorekeeperFactory(),
        at=MORNING,
    )


def sent(*tags: StripTag) -> OutsideWork:
    keeper = StorekeeperFactory()
    work = planned(*tags, keeper=keeper)
    return send_outside_work(outside_work_id=work.pk, acting_user=keeper, at=MORNING)


def two_rims() -> tuple[StripTag, StripTag]:
    order = WorkOrderFactory()
    return StripTagFactory(work_order=order), StripTagFactory(work_order=order)


def test_what_is_planned_lies_on_the_shelf_and_what_is_sent_is_out() -> None:
    front, rear = two_rims()
    work = planned(front, rear)
    front.refresh_from_db()
    assert (work.label, front.state) == ("OW-101", "on_shelf")
    send_outside_work(outside_work_id=work.pk, acting_user=OwnerFactory(), at=MORNING)
    for tag in (front, rear):
        tag.refresh_from_db()
        assert (tag.state, tag.supplier) == ("out", work.supplier)
    work.refresh_from_db()
    assert (work.state, work.sent_on) == ("away", MORNING.date())
    assert "with 2 tags" in HistoryEntry.objects.latest("pk").summary


def test_a_part_goes_to_one_supplier_at_a_time() -> None:
    (front, _), other = two_rims(), StripTagFactory()
    planned(front)
    with pytest.raises(IllegalMove) as refused, transaction.atomic():
        planned(front)
    assert "OW-101" in refused.value.message
    with pytest.raises(NotFound), transaction.atomic():
        plan_outside_work(
            work_order_id=front.work_order_id,
            details=plated(SupplierFactory()),
            tag_ids=[other.pk],
            acting_user=OwnerFactory(),
            at=MORNING,
        )
    with pytest.raises(IntegrityError), transaction.atomic():
        OutsideTag.objects.create(outside_work=OutsideWork.objects.get(), tag=front)


def test_what_was_fitted_meanwhile_does_not_leave() -> None:
    front, _ = two_rims()
    work = planned(front)
    StripTag.objects.filter(pk=front.pk).update(state="on_bike")
    with pytest.raises(IllegalMove) as refused:
        send_outside_work(
            outside_work_id=work.pk, acting_user=OwnerFactory(), at=MORNING
        )
    assert front.label in refused.value.message


def test_some_come_back_first_and_the_rest_is_waited_for() -> None:
    front, rear = two_rims()
    work, person = sent(front, rear), UserFactory()
    later = MORNING + timedelta(days=18)
    book_back(
        outside_work_id=work.pk,
        checks=[
            TagCheck(tag_id=front.pk, result="good", shelf="C2"),
            TagCheck(tag_id=rear.pk, result="still_away"),
        ],
        acting_user=person,
        at=later,
    )
    front.refresh_from_db()
    work.refresh_from_db()
    assert (front.state, front.shelf, work.state) == ("on_shelf", "C2", "away")
    book_back(
        outside_work_id=work.pk,
        checks=[TagCheck(tag_id=rear.pk, result="not_good", note="chrome has flaked")],
        acting_user=person,
        at=later,
    )
    work.refresh_from_db()
    assert (work.state, work.back_on) == ("back", later.date())
    send_again(
        outside_work_id=work.pk,
        tag_ids=[rear.pk],
        reason="chrome has flaked",
        acting_user=OwnerFactory(),
        at=later,
    )
    rear.refresh_from_db()
    work.refresh_from_db()
    assert (rear.state, work.state, work.back_on) == ("out", "away", None)
    assert OutsideTag.objects.filter(tag=rear).count() == 2


def test_every_part_that_is_away_is_spoken_of() -> None:
    front, rear = two_rims()
    work = sent(front, rear)
    for checks in ([], [TagCheck(tag_id=front.pk, result="good")]):
        with pytest.raises(Refusal) as refused:
            book_back(
                outside_work_id=work.pk,
                checks=checks,
                acting_user=UserFactory(),
                at=MORNING,
            )
        assert refused.value.code == "checks-incomplete"


def test_what_the_supplier_lost_is_written_off_when_the_customer_knows() -> None:
    front, _ = two_rims()
    work = sent(front)
    lost = TagCheck(tag_id=front.pk, result="lost", note="fell into the tank")
    with pytest.raises(IllegalMove) as refused, transaction.atomic():
        book_back(
            outside_work_id=work.pk,
            checks=[lost],
            acting_user=UserFactory(),
            at=MORNING,
        )
    assert refused.value.code == "consent-missing"
    told = TagCheck(
        tag_id=front.pk,
        result="lost",
        note="fell into the tank",
        consent_by_name="Ada Fenn",
    )
    book_back(
        outside_work_id=work.pk, checks=[told], acting_user=UserFactory(), at=MORNING
    )
    front.refresh_from_db()
    assert (front.state, front.consent_by_name) == ("scrapped", "Ada Fenn")


def test_the_bill_is_entered_and_the_supplier_stays() -> None:
    work, owner = sent(*two_rims()), OwnerFactory()
    edit_outside_work(
        outside_work_id=work.pk,
        changes={"cost_amount": Decimal("86.50")},
        acting_user=owner,
        at=MORNING,
    )
    with pytest.raises(IllegalMove) as refused:
        edit_outside_work(
            outside_work_id=work.pk,
            changes={"supplier_id": SupplierFactory().pk},
            acting_user=owner,
            at=MORNING,
        )
    assert refused.value.field == "supplier_id"


def test_plans_change_until_it_leaves() -> None:
    front, rear = two_rims()
    work, owner = planned(front), OwnerFactory()
    choose_tags(
        outside_work_id=work.pk, tag_ids=[rear.pk], acting_user=owner, at=MORNING
    )
    assert [row.tag for row in OutsideTag.objects.all()] == [rear]
    drop_outside_work(
        outside_work_id=work.pk, reason="too dear", acting_user=owner, at=MORNING
    )
    assert not OutsideTag.objects.exists()
    with pytest.raises(IllegalMove):
        send_outside_work(outside_work_id=work.pk, acting_user=owner, at=MORNING)
    with pytest.raises(IllegalMove):
        choose_tags(outside_work_id=work.pk, tag_ids=[], acting_user=owner, at=MORNING)


@pytest.mark.parametrize(
    ("days", "field"),
    [
        (Dispatch(sent_on=date(2026, 3, 3)), "sent_on"),
        (
            Dispatch(sent_on=date(2026, 3, 2), promised_on=date(2026, 3, 1)),
            "promised_on",
        ),
    ],
)
def test_days_that_cannot_be_are_refused(days: Dispatch, field: str) -> None:
    work = planned(*two_rims())
    with pytest.raises(Refusal) as refused:
        send_outside_work(
            outside_work_id=work.pk,
            dispatch=days,
            acting_user=OwnerFactory(),
            at=MORNING,
        )
    assert refused.value.field == field


def test_a_technician_books_back_and_arranges_nothing() -> None:
    with pytest.raises(NotAllowed):
        planned(keeper=UserFactory())


def test_a_retired_supplier_gets_nothing_new() -> None:
    with pytest.raises(NotFound):
        plan_outside_work(
            work_order_id=WorkOrderFactory().pk,
            details=plated(SupplierFactory(is_retired=True)),
            acting_user=OwnerFactory(),
            at=MORNING,
        )
