"""Pages of a bike's odometer, owners and time line, and of further contacts."""

import pytest
from django.test import Client

from shop.domain.roles import Role
from shop.models import Contact, OdometerReading, Ownership
from tests.builders import BikeFactory, CustomerFactory, WorkOrderFactory
from tests.shop.web.pages import (
    as_role,
    error_at,
    no_query_while_rendering,
    url,
    words,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def desk() -> Client:
    return as_role(Role.FRONT_DESK)


def test_a_reading_is_taken_down_on_the_open_job_and_shown(desk: Client) -> None:
    order = WorkOrderFactory.create()
    address = url("odometer_reading_add", order.bike_id)
    assert f'value="{order.pk}" selected' in desk.get(address).content.decode()
    answer = desk.post(
        address,
        {"distance": "20417,3", "unit": "miles", "work_order_id": str(order.pk)},
        follow=True,
    )
    page = words(answer)
    assert "The reading is written down." in page
    assert "20417.3 miles" in page
    assert OdometerReading.objects.get().work_order == order


def test_a_lower_reading_is_asked_for_its_reason_and_nothing_is_lost(
    desk: Client,
) -> None:
    bike = BikeFactory.create()
    address = url("odometer_reading_add", bike.pk)
    desk.post(address, {"distance": "20417", "unit": "miles"})
    answer = desk.post(address, {"distance": "12", "unit": "miles"})
    assert answer.status_code == 422
    assert "instrument replaced" in error_at(answer, "reason")
    assert 'value="12"' in answer.content.decode()
    assert OdometerReading.objects.count() == 1


def test_a_wrong_reading_is_struck_and_the_right_one_stands(desk: Client) -> None:
    bike = BikeFactory.create()
    desk.post(url("odometer_reading_add", bike.pk), {"distance": "94100", "unit": "km"})
    wrong = OdometerReading.objects.get()
    answer = desk.post(
        url("odometer_reading_correct", wrong.pk),
        {"distance": "49100", "unit": "km", "reason": "Figures swapped"},
        follow=True,
    )
    assert "<del>94100 km</del>" in answer.content.decode()
    assert "49100 km" in words(answer)


def test_a_new_owner_has_a_first_day_and_the_old_one_keeps_the_bike_in_sight(
    desk: Client,
) -> None:
    order = WorkOrderFactory.create()
    seller, buyer = order.customer, CustomerFactory.create(name="Ada Fenn")
    desk.post(
        url("bike_pass_on", order.bike_id),
        {"owner_id": str(buyer.pk), "on": "2025-04-01", "note": "Left to her"},
    )
    assert str(Ownership.objects.present().get().began_on) == "2025-04-01"
    bike = words(desk.get(url("bike", order.bike_id)))
    assert "1 Apr 2025" in bike
    assert seller.name in bike
    page = words(desk.get(url("customer", seller.pk)))
    assert "Bikes owned before" in page
    assert "WO-" in page


def test_the_time_line_is_narrowed_and_nonsense_shows_everything(desk: Client) -> None:
    bike = BikeFactory.create()
    desk.post(url("odometer_reading_add", bike.pk), {"distance": "5", "unit": "km"})
    address = url("bike_timeline", bike.pk)
    assert "Odometer read: 5 km" in words(desk.get(f"{address}?kind=odometer"))
    assert "Nothing of this kind" in words(desk.get(f"{address}?kind=labour"))
    assert "Odometer read: 5 km" in words(desk.get(f"{address}?kind=%00luck"))
    assert desk.get(url("bike_timeline", 404)).status_code == 404


def test_a_contact_is_added_corrected_and_taken_out(desk: Client) -> None:
    customer = CustomerFactory.create()
    given = {"name": "Jo Fenn", "preferred": "phone", "phone": ""}
    answer = desk.post(url("contact_add", customer.pk), given)
    assert answer.status_code == 422
    assert "phone number" in error_at(answer, "phone")
    desk.post(url("contact_add", customer.pk), {**given, "phone": "0555 010 201"})
    contact = Contact.objects.get()
    assert "0555 010 201" in words(desk.get(url("customer", customer.pk)))
    desk.post(
        url("contact_edit", contact.pk),
        {**given, "phone": "0555 010 202", "initial-phone": "0555 010 201"},
    )
    contact.refresh_from_db()
    assert contact.phone == "0555 010 202"
    desk.post(url("contact_retire", contact.pk))
    assert "0555 010 202" not in words(desk.get(url("customer", customer.pk)))


def test_the_templates_ask_the_database_nothing(
    desk: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    order = WorkOrderFactory.create()
    bike = order.bike_id
    desk.post(url("odometer_reading_add", bike), {"distance": "5", "unit": "km"})
    desk.post(
        url("contact_add", order.customer_id), {"name": "Jo", "preferred": "letter"}
    )
    desk.post(url("bike_pass_on", bike), {"owner_id": str(CustomerFactory().pk)})
    contact, reading = Contact.objects.get().pk, OdometerReading.objects.get().pk
    with no_query_while_rendering(monkeypatch):
        for address in (
            url("bike", bike),
            url("bike_timeline", bike),
            url("odometer_reading_add", bike),
            url("odometer_reading_correct", reading),
            url("customer", order.customer_id),
            url("contact_add", order.customer_id),
            url("contact_edit", contact),
            url("contact_retire", contact),
        ):
            assert desk.get(address).status_code == 200
