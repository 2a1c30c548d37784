"""Owners one after the other, odometers, and who else may be rung."""

from decimal import Decimal

from diagnostics.demo import invented
from diagnostics.demo.shop_floor import ShopFloor
from shop.actions.contacts import add_contact
from shop.actions.customers import add_customer
from shop.actions.odometer_readings import correct_odometer, read_odometer
from shop.actions.ownerships import pass_on_bike
from shop.domain.contacts import ContactDetails
from shop.domain.customers import CustomerDetails
from shop.domain.odometer_readings import OdometerEntry
from shop.domain.ownerships import Handing
from shop.models import OdometerReading

HEIR = "Juniper Pemberton"


def fill_bike_histories(floor: ShopFloor) -> None:
    """Let a bike change hands, two odometers be read, and a daughter be reachable."""
    _handed_down(floor)
    _read(floor, invented.RESTORED, "31240", "miles", 110)
    wrong = _read(floor, invented.RESTORED, "31420", "miles", 82)
    correct_odometer(
        reading_id=wrong.pk,
        entry=OdometerEntry(
            distance=Decimal(31242), unit="miles", reason="Two figures swapped"
        ),
        acting_user=floor.technician,
        at=floor.calendar.at(81, 9),
    )
    _read(floor, invented.HUNTED, "48112", "km", 100)
    _read(
        floor,
        invented.HUNTED,
        "317",
        "km",
        20,
        reason="Instrument replaced by the owner last summer",
    )
    add_contact(
        customer_id=floor.customers[invented.MARIGOLD],
        details=ContactDetails(
            name="Bertram Pemberton",
            relation="brother, fetches the bikes",
            phone="0555 0188",
            preferred="text_message",
            notes="Has the only key to the barn.",
        ),
        acting_user=floor.front_desk,
        at=floor.calendar.at(12, 10),
    )


def _handed_down(floor: ShopFloor) -> None:
    at = floor.calendar.at(7, 11)
    heir = add_customer(
        details=CustomerDetails(name=HEIR, phone="0555 0193"),
        acting_user=floor.front_desk,
        at=at,
    )
    pass_on_bike(
        bike_id=floor.bikes[invented.QUOTED],
        owner_id=heir.pk,
        handing=Handing(on=floor.calendar.day(8), note="Given to her niece"),
        acting_user=floor.front_desk,
        at=at,
    )


def _read(
    floor: ShopFloor,
    bike: str,
    distance: str,
    unit: str,
    days_ago: int,
    *,
    reason: str = "",
) -> OdometerReading:
    return read_odometer(
        bike_id=floor.bikes[bike],
        entry=OdometerEntry(distance=Decimal(distance), unit=unit, reason=reason),
        acting_user=floor.technician,
        at=floor.calendar.at(days_ago, 9),
    )
