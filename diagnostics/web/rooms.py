"""The bench's rooms in the shop's navigation."""

from shop.domain.roles import Act
from shop.web.nav import Room, register


def register_rooms() -> None:
    """Add the bench and the library of drawings."""
    register(Room("Bench", "diagnostics:cases", Act.SEE_SHOP, 25))
    register(Room("Drawings", "diagnostics:harness_files", Act.SEE_SHOP, 50))
