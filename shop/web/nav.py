"""The rooms of the shop in the head of every page; other apps add theirs."""

from dataclasses import dataclass

from django.urls import reverse

from shop.domain.roles import Act, Viewer


@dataclass(frozen=True, slots=True)
class Room:
    """A place in the navigation, shown to those who may do the act.

    `order` sorts it: today 10, work orders 20, customers 30, bikes 40, parts 60,
    shop 90; what another app adds goes in between.
    """

    text: str
    url_name: str
    act: Act
    order: int


@dataclass(frozen=True, slots=True)
class NavItem:
    """A room as the template shows it."""

    text: str
    href: str
    is_current: bool
    current_kind: str


_rooms: dict[str, Room] = {}


def register(room: Room) -> None:
    """Add a room; the same one twice is one room."""
    _rooms[room.url_name] = room


for _room in (
    Room("Today", "shop:today", Act.SEE_SHOP, 10),
    Room("My day", "shop:my_day", Act.BOOK_LABOUR, 15),
    Room("Work orders", "shop:work_orders", Act.SEE_SHOP, 20),
    Room("Plan", "shop:plan_board", Act.SEE_SHOP, 25),
    Room("Customers", "shop:customers", Act.SEE_CUSTOMERS, 30),
    Room("Bikes", "shop:bikes", Act.SEE_SHOP, 40),
    Room("Tags", "shop:strip_tags", Act.SEE_SHOP, 52),
    Room("Outside work", "shop:outside_work", Act.SEE_SHOP, 54),
    Room("Parts", "shop:parts", Act.SEE_SHOP, 60),
    Room("Shop", "shop:settings", Act.KEEP_SHOP_SETTINGS, 90),
):
    register(_room)


def nav_items(*, viewer: Viewer, path: str) -> tuple[NavItem, ...]:
    """Return the rooms this viewer may enter, with the present one marked."""
    rooms = sorted(
        (room for room in _rooms.values() if viewer.may(room.act)),
        key=lambda room: (room.order, room.text),
    )
    items = []
    for room in rooms:
        href = reverse(room.url_name)
        is_here = path == href
        is_inside = href != "/" and path.startswith(href)
        items.append(
            NavItem(
                text=room.text,
                href=href,
                is_current=is_here or is_inside,
                current_kind="page" if is_here else "true",
            )
        )
    return tuple(items)
