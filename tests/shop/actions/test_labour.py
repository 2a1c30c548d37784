"""Hours are booked at the rate of the day, and struck out with a reason."""

from datetime import date, timedelta
from decimal import Decimal

import pytest

from shop.actions.labour import add_labour, void_labour
from shop.domain.labour import LabourEntry
from shop.domain.refusals import IllegalMove, NotAllowed, NotFound, Refusal
from shop.models import HistoryEntry, LabourLine, ShopSettings
from tests.builders import (
    MORNING,
    FrontDeskFactory,
    LabourLineFactory,
    OwnerFactory,
    ShopSettingsFactory,
    TaxRateFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db
FIFTY = LabourEntry(
    kind="fault_finding",
    minutes=50,
    description="Traced the feed to the head lamp",
    reason="from the job card",
)


def test_a_technician_books_fifty_minutes_at_the_shops_rate() -> None:
    tax = TaxRateFactory()
    ShopSettingsFactory(default_tax_rate=tax, hourly_rate=Decimal("54.00"))
    order, mo = WorkOrderFactory(state="on_the_bench"), UserFactory(first_name="Mo")
    line = add_labour(work_order_id=order.pk, entry=FIFTY, acting_user=mo, at=MORNING)
    line.refresh_from_db()
    assert (line.technician, line.technician_name) == (mo, "Mo")
    assert (line.minutes, line.hourly_rate) == (50, Decimal("54.0000"))
    assert line.tax_label == tax.label
    assert line.done_on == date(2026, 3, 2)
    entry = HistoryEntry.objects.of_work_order(order.pk).get()
    assert entry.summary == "50 min of Mo booked: Traced the feed to the head lamp"


def test_the_rate_stays_on_the_line_when_the_shop_gets_dearer() -> None:
    ShopSettingsFactory(hourly_rate=Decimal("54.00"))
    line = add_labour(
        work_order_id=WorkOrderFactory().pk,
        entry=FIFTY,
        acting_user=UserFactory(),
        at=MORNING,
    )
    ShopSettings.objects.update(hourly_rate=Decimal("66.00"))
    line.refresh_from_db()
    assert line.hourly_rate == Decimal(54)


def test_somebodys_own_rate_goes_before_the_shops() -> None:
    ShopSettingsFactory(hourly_rate=Decimal("54.00"))
    line = add_labour(
        work_order_id=WorkOrderFactory().pk,
        entry=FIFTY,
        acting_user=UserFactory(hourly_rate=Decimal("61.50")),
        at=MORNING,
    )
    assert line.hourly_rate == Decimal("61.50")


def test_a_shop_without_settings_books_at_nothing_and_no_tax() -> None:
    line = add_labour(
        work_order_id=WorkOrderFactory().pk,
        entry=FIFTY,
        acting_user=UserFactory(),
        at=MORNING,
    )
    assert (line.hourly_rate, line.tax_percent) == (Decimal(0), Decimal(0))
    assert line.tax_label == "No tax"


def test_today_is_the_day_where_the_shop_is() -> None:
    ShopSettingsFactory(time_zone="Pacific/Auckland")
    evening_in_utc = MORNING.replace(hour=20)
    line = add_labour(
        work_order_id=WorkOrderFactory().pk,
        entry=FIFTY,
        acting_user=UserFactory(),
        at=evening_in_utc,
    )
    assert line.done_on == date(2026, 3, 3)


def test_work_is_not_booked_before_it_is_done() -> None:
    tomorrow = (MORNING + timedelta(days=1)).date()
    entry = LabourEntry(
        kind="repair", minutes=10, description="Later", reason="card", done_on=tomorrow
    )
    with pytest.raises(Refusal) as refused:
        add_labour(
            work_order_id=WorkOrderFactory().pk,
            entry=entry,
            acting_user=UserFactory(),
            at=MORNING,
        )
    assert refused.value.field == "done_on"


def test_the_front_desk_books_for_a_technician_but_not_for_itself() -> None:
    order, desk, mo = WorkOrderFactory(), FrontDeskFactory(), UserFactory()
    for_mo = LabourEntry(
        kind="repair",
        minutes=10,
        description="New bulb",
        reason="card",
        technician_id=mo.pk,
    )
    line = add_labour(
        work_order_id=order.pk, entry=for_mo, acting_user=desk, at=MORNING
    )
    assert line.technician == mo
    with pytest.raises(NotAllowed):
        add_labour(work_order_id=order.pk, entry=FIFTY, acting_user=desk, at=MORNING)


def test_a_technician_books_neither_for_others_nor_at_another_rate() -> None:
    order, mo, other = WorkOrderFactory(), UserFactory(), UserFactory()
    for entry in (
        LabourEntry(
            kind="repair",
            minutes=1,
            description="x",
            reason="card",
            technician_id=other.pk,
        ),
        LabourEntry(
            kind="repair",
            minutes=1,
            description="x",
            reason="card",
            hourly_rate=Decimal(1),
        ),
    ):
        with pytest.raises(NotAllowed):
            add_labour(work_order_id=order.pk, entry=entry, acting_user=mo, at=MORNING)
    assert not LabourLine.objects.exists()


def test_the_owner_may_set_a_rate_and_a_tax_for_one_line() -> None:
    tax = TaxRateFactory(label="Reduced", percent=Decimal("5.5"))
    entry = LabourEntry(
        kind="restoration",
        minutes=120,
        description="Rebuilt the dynamo",
        reason="from the job card",
        hourly_rate=Decimal("40.00"),
        tax_rate_id=tax.pk,
    )
    line = add_labour(
        work_order_id=WorkOrderFactory().pk,
        entry=entry,
        acting_user=OwnerFactory(),
        at=MORNING,
    )
    line.refresh_from_db()
    assert (line.hourly_rate, line.tax_percent) == (Decimal(40), Decimal("5.5"))


@pytest.mark.parametrize("technician_id", [0, 404, 10**30])
def test_hours_of_nobody_are_refused(technician_id: int) -> None:
    entry = LabourEntry(
        kind="repair",
        minutes=1,
        description="x",
        reason="card",
        technician_id=technician_id,
    )
    with pytest.raises(NotFound):
        add_labour(
            work_order_id=WorkOrderFactory().pk,
            entry=entry,
            acting_user=OwnerFactory(),
            at=MORNING,
        )


@pytest.mark.parametrize("state", ["closed", "called_off"])
def test_an_ended_work_order_takes_no_hours(state: str) -> None:
    with pytest.raises(IllegalMove):
        add_labour(
            work_order_id=WorkOrderFactory(state=state).pk,
            entry=FIFTY,
            acting_user=UserFactory(),
            at=MORNING,
        )


def test_a_line_is_struck_out_with_a_reason_and_stays_readable() -> None:
    line = LabourLineFactory()
    void_labour(
        line_id=line.pk,
        reason="wrong order",
        acting_user=line.technician,
        at=MORNING,
    )
    line.refresh_from_db()
    assert line.is_void
    assert line.minutes == 50
    entry = HistoryEntry.objects.of_work_order(line.work_order_id).get()
    assert (entry.verb, entry.reason) == ("labour.voided", "wrong order")


def test_a_line_is_struck_out_once() -> None:
    line = LabourLineFactory()
    mo = line.technician
    void_labour(line_id=line.pk, reason="wrong", acting_user=mo, at=MORNING)
    with pytest.raises(IllegalMove, match="already"):
        void_labour(line_id=line.pk, reason="again", acting_user=mo, at=MORNING)
    line.refresh_from_db()
    assert line.void_reason == "wrong"


def test_nothing_is_struck_out_without_a_reason() -> None:
    line = LabourLineFactory()
    with pytest.raises(Refusal) as refused:
        void_labour(
            line_id=line.pk, reason="  ", acting_user=line.technician, at=MORNING
        )
    assert refused.value.field == "reason"


def test_a_technician_strikes_out_nobody_elses_hours() -> None:
    with pytest.raises(NotAllowed):
        void_labour(
            line_id=LabourLineFactory().pk,
            reason="not mine",
            acting_user=UserFactory(),
            at=MORNING,
        )
