"""Customers: the list, and one with bikes and work orders."""

from dataclasses import dataclass
from datetime import datetime

from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import Bike, Customer
from shop.selectors.bikes import BikeRow, bike_row
from shop.selectors.contacts import ContactRow, contacts_of_customer
from shop.selectors.ownerships import OwnershipRow, bikes_owned_before
from shop.selectors.windows import FIRST_ROWS, MOST_ROWS, Listing, Window, listing
from shop.selectors.work_order_rows import WorkOrderRow, work_orders_of_customer


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerRow:
    """One customer."""

    id: int
    name: str
    address: str
    phone: str
    email: str
    tax_number: str
    notes: str
    created_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerPage:
    """One customer: contacts, bikes owned now and before, work orders."""

    customer: CustomerRow
    contacts: tuple[ContactRow, ...]
    bikes: tuple[BikeRow, ...]
    bikes_before: tuple[OwnershipRow, ...]
    work_orders: tuple[WorkOrderRow, ...]


def customer_list(
    *, viewer: Viewer, search: str = "", window: Window = FIRST_ROWS
) -> Listing[CustomerRow]:
    """Return the customers that hold every word of the search, by name."""
    viewer.demand(Act.SEE_CUSTOMERS)
    found = Customer.objects.matching(search).by_name()
    return listing(found, window=window, row=customer_row)


def customer_page(*, customer_id: int, viewer: Viewer) -> CustomerPage:
    """Return one customer with contacts, bikes and work orders, in five queries.

    Raises
    ------
    NotFound
        No such customer.
    """
    found = customer(customer_id=customer_id, viewer=viewer)
    bikes = Bike.objects.of_customer(customer_id).by_name().select_related("owner")
    return CustomerPage(
        customer=found,
        contacts=contacts_of_customer(customer_id=customer_id, viewer=viewer),
        bikes=tuple(bike_row(bike, viewer) for bike in bikes[:MOST_ROWS]),
        bikes_before=bikes_owned_before(customer_id=customer_id, viewer=viewer),
        work_orders=work_orders_of_customer(customer_id=customer_id, viewer=viewer),
    )


def customer(*, customer_id: int, viewer: Viewer) -> CustomerRow:
    """Return one customer.

    Raises
    ------
    NotFound
        No such customer.
    """
    viewer.demand(Act.SEE_CUSTOMERS)
    row = Customer.objects.filter(pk=customer_id).first()
    if row is None:
        raise NotFound("customer-not-found", "There is no such customer.")
    return customer_row(row)


def customer_row(row: Customer) -> CustomerRow:
    """Return a customer as a row."""
    return CustomerRow(
        id=row.pk,
        name=row.name,
        address=row.address,
        phone=row.phone,
        email=row.email,
        tax_number=row.tax_number,
        notes=row.notes,
        created_at=row.created_at,
    )
