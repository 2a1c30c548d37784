"""Bikes: the list, and one with everything that is known of it."""

from dataclasses import dataclass

from shop.domain.bikes import EARTH_LABELS, EarthPolarity
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import Bike
from shop.models.bikes import BikeQuerySet
from shop.seams import Loom, registry
from shop.selectors.odometer_readings import Odometer, odometer_of_bike
from shop.selectors.ownerships import OwnershipRow, owners_if_any
from shop.selectors.timeline import TimelineRow, acts_on_bike
from shop.selectors.windows import FIRST_ROWS, Listing, Window, listing
from shop.selectors.work_order_rows import WorkOrderRow, work_orders_of_bike

_LATEST = Window(limit=8)


@dataclass(frozen=True, slots=True, kw_only=True)
class BikeRow:
    """One bike in a list; the owner is empty for who may not see customers."""

    id: int
    name: str
    maker: str
    model: str
    year: int | None
    registration: str
    frame_number: str
    engine_number: str
    colour: str
    system_volts: int
    earth: str
    earth_label: str
    notes: str
    owner_id: int | None
    owner_name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BikePage:
    """One bike: work orders, owners, odometer, drawings, the latest that was done.

    `owners` is empty for who may not see customers.
    """

    bike: BikeRow
    work_orders: tuple[WorkOrderRow, ...]
    owners: tuple[OwnershipRow, ...]
    odometer: Odometer
    looms: tuple[Loom, ...]
    latest: tuple[TimelineRow, ...]
    latest_total: int


def bike_list(
    *,
    viewer: Viewer,
    search: str = "",
    owner_id: int | None = None,
    window: Window = FIRST_ROWS,
) -> Listing[BikeRow]:
    """Return the bikes that hold every word of the search, by name."""
    viewer.demand(Act.SEE_SHOP)
    found = _matching(search, viewer)
    if owner_id is not None:
        viewer.demand(Act.SEE_CUSTOMERS)
        found = found.of_customer(owner_id)
    return listing(
        found.by_name().select_related("owner"),
        window=window,
        row=lambda bike: bike_row(bike, viewer),
    )


def bike_page(*, bike_id: int, viewer: Viewer) -> BikePage:
    """Return one bike with everything that is known of it, in eight queries at most.

    Raises
    ------
    NotFound
        No such bike.
    """
    found = bike(bike_id=bike_id, viewer=viewer)
    sees = _sees_owners(viewer)
    latest = acts_on_bike(bike_id=bike_id, viewer=viewer, window=_LATEST)
    return BikePage(
        bike=found,
        work_orders=work_orders_of_bike(bike_id=bike_id, viewer=viewer),
        owners=owners_if_any(bike_id=bike_id, viewer=viewer) if sees else (),
        odometer=odometer_of_bike(bike_id=bike_id, viewer=viewer),
        looms=registry.looms(bike_id=bike_id),
        latest=latest.rows,
        latest_total=latest.total,
    )


def bike(*, bike_id: int, viewer: Viewer) -> BikeRow:
    """Return one bike.

    Raises
    ------
    NotFound
        No such bike.
    """
    viewer.demand(Act.SEE_SHOP)
    row = Bike.objects.select_related("owner").filter(pk=bike_id).first()
    if row is None:
        raise NotFound("bike-not-found", "There is no such bike.")
    return bike_row(row, viewer)


def bike_row(bike: Bike, viewer: Viewer) -> BikeRow:
    """Return a bike as a row; its owner must have been fetched with it."""
    sees = _sees_owners(viewer)
    return BikeRow(
        id=bike.pk,
        name=bike.name,
        maker=bike.maker,
        model=bike.model,
        year=bike.year,
        registration=bike.registration,
        frame_number=bike.frame_number,
        engine_number=bike.engine_number,
        colour=bike.colour,
        system_volts=bike.system_volts,
        earth=bike.earth,
        earth_label=EARTH_LABELS[EarthPolarity(bike.earth)],
        notes=bike.notes,
        owner_id=bike.owner_id if sees else None,
        owner_name=bike.owner.name if sees else "",
    )


def _matching(search: str, viewer: Viewer) -> BikeQuerySet:
    if _sees_owners(viewer):
        return Bike.objects.matching_with_owner(search)
    return Bike.objects.matching(search)


def _sees_owners(viewer: Viewer) -> bool:
    return viewer.may(Act.SEE_CUSTOMERS)
