"""People, customers, bikes, parts and drawings of the invented workshop."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from pathlib import Path

from django.conf import settings

from diagnostics.actions.harness_files import upload_harness
from diagnostics.demo import invented
from diagnostics.demo.calendar import Calendar
from shop.actions.bikes import add_bike
from shop.actions.customers import add_customer
from shop.actions.parts import add_part
from shop.actions.people import add_person
from shop.actions.shop_settings import edit_shop_settings
from shop.actions.tax_rates import add_tax_rate
from shop.domain.parts import PartDetails
from shop.models import User

LIBRARY = Path(__file__).resolve().parent.parent / "library"
OPENED_DAYS_AGO = 120


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopFloor:
    """Everything that work orders are made of, by the names in `invented.py`."""

    calendar: Calendar
    people: Mapping[str, User]
    customers: Mapping[str, int]
    bikes: Mapping[str, int]
    parts: Mapping[str, int]
    drawings: Mapping[str, int]

    @property
    def owner(self) -> User:
        """The owner."""
        return self.people[invented.OWNER]

    @property
    def front_desk(self) -> User:
        """Who stands at the counter."""
        return self.people[invented.FRONT_DESK]

    @property
    def technician(self) -> User:
        """Who stands at the bench."""
        return self.people[invented.TECHNICIAN]


def open_shop(*, calendar: Calendar) -> ShopFloor:
    """Open the invented workshop: everything but its work orders."""
    at = calendar.at(OPENED_DAYS_AGO, 9)
    people = _people(at)
    owner = people[invented.OWNER]
    rates = _tax_rates(owner, at)
    _settings(owner, rates[invented.STANDARD_RATE], at)
    counter = people[invented.FRONT_DESK]
    customers = {
        details.name: add_customer(details=details, acting_user=counter, at=at).pk
        for details in invented.CUSTOMERS
    }
    return ShopFloor(
        calendar=calendar,
        people=people,
        customers=customers,
        bikes=_bikes(customers, counter, at),
        parts=_parts(rates, people[invented.STOREKEEPER], at),
        drawings=_drawings(people[invented.TECHNICIAN], at),
    )


def _people(at: datetime) -> dict[str, User]:
    # The first owner has nobody to open the account; createsuperuser does the same.
    owner = User.objects.create_superuser(
        invented.OWNER,
        "maud@fennick-rowe.example",
        invented.PASSWORD,
        first_name="Maud",
        last_name="Fennick",
        date_joined=at,
    )
    people = {invented.OWNER: owner}
    for details in invented.PEOPLE:
        people[details.username] = add_person(
            details=details, password=invented.PASSWORD, acting_user=owner, at=at
        )
    return people


def _tax_rates(owner: User, at: datetime) -> dict[tuple[str, Decimal], int]:
    return {
        (label, percent): add_tax_rate(
            label=label, percent=percent, acting_user=owner, at=at
        ).pk
        for label, percent in (invented.STANDARD_RATE, invented.REDUCED_RATE)
    }


def _settings(owner: User, standard_rate_id: int, at: datetime) -> None:
    changes: dict[str, object] = {
        **invented.SHOP,
        "default_tax_rate_id": standard_rate_id,
        "time_zone": settings.TIME_ZONE,
    }
    edit_shop_settings(changes=changes, acting_user=owner, at=at)


def _bikes(customers: Mapping[str, int], counter: User, at: datetime) -> dict[str, int]:
    return {
        name: add_bike(
            owner_id=customers[bike.owner],
            details=bike.details,
            acting_user=counter,
            at=at,
        ).pk
        for name, bike in invented.BIKES.items()
    }


def _parts(
    rates: Mapping[tuple[str, Decimal], int], storekeeper: User, at: datetime
) -> dict[str, int]:
    return {
        part.number: add_part(
            details=PartDetails(
                number=part.number,
                description=part.description,
                price=part.price,
                tax_rate_id=rates[part.tax],
                condition=part.condition,
                unit=part.unit,
                bin=part.bin,
            ),
            acting_user=storekeeper,
            at=at,
        ).pk
        for part in invented.PARTS
    }


def _drawings(technician: User, at: datetime) -> dict[str, int]:
    return {
        name: upload_harness(
            maker=maker,
            model=model,
            years=years,
            content=(LIBRARY / name).read_bytes(),
            acting_user=technician,
            at=at,
        ).pk
        for name, (maker, model, years) in invented.DRAWINGS.items()
    }
