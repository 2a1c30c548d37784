"""How each noun of the shop is found by the one search box."""

from collections.abc import Callable, Iterable

from shop.domain.lifecycle import STATE_LABELS, State
from shop.domain.roles import Act, Viewer
from shop.domain.search import Wanted
from shop.models import Bike, Customer, PaperRequest, Part, WorkOrder
from shop.selectors.search import SearchedNoun, register

_LONGEST_DETAIL = 140


def joined(pieces: Iterable[str]) -> str:
    """Return what is known in one line, short enough to be read at a glance."""
    line = " · ".join(" ".join(piece.split()) for piece in pieces if piece)
    if len(line) <= _LONGEST_DETAIL:
        return line
    return line[: _LONGEST_DETAIL - 1].rstrip() + "…"


def through(path: str, *columns: str) -> tuple[str, ...]:
    """Return columns of a row that this one points at."""
    return tuple(f"{path}__{column}" for column in columns)


def after(prefix: str) -> Callable[[Wanted], tuple[int, ...]]:
    """Return how a running number is read that is printed behind these letters."""

    def numbers(wanted: Wanted) -> tuple[int, ...]:
        number = wanted.number(prefix)
        return () if number is None else (number,)

    return numbers


BIKE_NAMES = ("maker", "model", "registration")
BIKE_NUMBERS = ("frame_number", "engine_number")


def _customer(row: Customer, _viewer: Viewer) -> str:
    return joined((row.phone, row.email, row.address))


def _bike(row: Bike, viewer: Viewer) -> str:
    return joined(
        (
            row.registration,
            row.frame_number and f"frame {row.frame_number}",
            row.engine_number and f"engine {row.engine_number}",
            row.owner.name if viewer.may(Act.SEE_CUSTOMERS) else "",
        )
    )


def _work_order(row: WorkOrder, viewer: Viewer) -> str:
    return joined(
        (
            STATE_LABELS[State(row.state)],
            row.customer.name if viewer.may(Act.SEE_CUSTOMERS) else "",
            row.complaint,
        )
    )


def _part(row: Part, _viewer: Viewer) -> str:
    return joined(
        (
            row.get_condition_display(),
            row.bin and f"bin {row.bin}",
            "retired" if row.is_retired else "",
        )
    )


def _paper(row: PaperRequest, _viewer: Viewer) -> str:
    order = row.work_order
    return joined((order.bike.name, order.customer.name, row.get_state_display()))


for _noun in (
    SearchedNoun(
        kind="customer",
        label="Customers",
        url_name="shop:customer",
        list_url_name="shop:customers",
        act=Act.SEE_CUSTOMERS,
        position=20,
        rows=lambda _viewer: Customer.objects.all(),
        columns=("name", "phone", "email", "address"),
        stamped=("phone",),
        title=lambda row: str(row.name),
        detail=_customer,
        order=("name", "pk"),
    ),
    SearchedNoun(
        kind="bike",
        label="Bikes",
        url_name="shop:bike",
        list_url_name="shop:bikes",
        act=Act.SEE_SHOP,
        position=30,
        rows=lambda _viewer: Bike.objects.select_related("owner"),
        columns=(*BIKE_NAMES, *BIKE_NUMBERS, "colour"),
        customer_columns=("owner__name",),
        stamped=(*BIKE_NUMBERS, "registration"),
        title=lambda row: str(row.name),
        detail=_bike,
        order=("maker", "model", "year", "pk"),
    ),
    SearchedNoun(
        kind="work_order",
        label="Work orders",
        url_name="shop:work_order",
        list_url_name="shop:work_orders",
        act=Act.SEE_SHOP,
        position=10,
        rows=lambda _viewer: WorkOrder.objects.with_people(),
        columns=("complaint", *through("bike", *BIKE_NAMES, *BIKE_NUMBERS)),
        customer_columns=("customer__name",),
        counted="number",
        numbers=after("WO"),
        title=lambda row: f"{row.label} {row.bike.name}",
        detail=_work_order,
        order=("-number",),
    ),
    SearchedNoun(
        kind="part",
        label="Parts",
        url_name="shop:part",
        list_url_name="shop:parts",
        act=Act.SEE_SHOP,
        position=50,
        rows=lambda _viewer: Part.objects.all(),
        columns=("number", "description", "bin"),
        stamped=("number",),
        title=lambda row: f"{row.number} {row.description}",
        detail=_part,
        order=("is_retired", "number", "pk"),
    ),
    SearchedNoun(
        kind="paper",
        label="Paper",
        url_name="shop:paper",
        act=Act.SEE_CUSTOMERS,
        position=80,
        rows=lambda _viewer: PaperRequest.objects.select_related(
            "work_order__bike", "work_order__customer"
        ),
        columns=("kind", *through("work_order__bike", *BIKE_NAMES)),
        customer_columns=("work_order__customer__name",),
        counted="work_order__number",
        numbers=after("WO"),
        title=lambda row: f"{row.get_kind_display()} {row.work_order.label}",
        detail=_paper,
        order=("-requested_at", "-pk"),
        page_id=lambda row: int(row.work_order_id),
    ),
):
    register(_noun)
