"""Customers: the list, and one with bikes and work orders."""

from dataclasses import dataclass
from datetime import datetime

from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import Bike, Customer
from shop.selectors.bikes import BikeRow, bike_row
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
    """One customer, their bikes and their work orders."""

    customer: CustomerRow
    bikes: tuple[BikeRow, ...]
    work_orders: tuple[WorkOrderRow, ...]


def customer_list(
    *, viewer: Viewer, search: str = "", window: Window = FIRST_ROWS
) -> Listing[CustomerRow]:
    """Return the customers that hold every word of the search, by name."""
    viewer.demand(Act.SEE_CUSTOMERS)
    found = Customer.objects.matching(search).by_name()
    return listing(found, window=window, row=customer_row)


def customer_page(*, customer_id: int, viewer: Viewer) -> CustomerPage:
    """Return one customer with bikes and work orders.

    Raises
    ------
    NotFound
        No such customer.
    """
    viewer.demand(Act.SEE_CUSTOMERS)
    customer = Customer.objects.filter(pk=customer_id).first()
    if customer is None:
        raise NotFound("customer-not-found", "There is no such customer.")
    bikes = Bike.objects.of_customer(customer_id).by_name().select_related("owner")
    return CustomerPage(
        customer=customer_row(customer),
        bikes=tuple(bike_row(bike, viewer) for bike in bikes[:MOST_ROWS]),
        work_orders=work_orders_of_customer(customer_id=customer_id, viewer=viewer),
    )


def customer_row(customer: Customer) -> CustomerRow:
    """Return a customer as a row."""
    return CustomerRow(
        id=customer.pk,
        name=customer.name,
        address=customer.address,
        phone=customer.phone,
        email=customer.email,
        tax_number=customer.tax_number,
        notes=customer.notes,
        created_at=customer.created_at,
    )
