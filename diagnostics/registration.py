"""What the bench registers with the shop when the service starts."""

from diagnostics import timeline
from diagnostics.sections import register_with
from diagnostics.web.rooms import register_rooms
from shop.seams import registry


def register_everything() -> None:
    """Add the bench to the shop's work orders, reports, time lines and navigation."""
    register_with(registry)
    timeline.register_with(registry)
    register_rooms()
