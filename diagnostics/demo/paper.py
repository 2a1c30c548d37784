"""The demo's paper, built before the first page is opened."""

from shop.actions.paper_building import Clock, build_next


def build_waiting(*, clock: Clock) -> None:
    """Build every paper that waits, as a worker would."""
    while build_next(acting_user=None, at=clock(), clock=clock):
        pass
