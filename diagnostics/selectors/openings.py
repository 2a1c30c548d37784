"""What somebody needs to see to open a fault hunt on a work order."""

from dataclasses import dataclass

from diagnostics.selectors.harness_files import HarnessFileLine, drawings_for
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer, demand
from shop.models import WorkOrder


@dataclass(frozen=True, kw_only=True)
class Opening:
    """A work order, its bike, and the drawings that fit the bike."""

    work_order_id: int
    work_order: str
    bike: str
    complaint: str
    system_volts: int
    earth: str
    drawings: tuple[HarnessFileLine, ...]
    best_drawing: int | None


def opening_page(*, work_order_id: int, viewer: Viewer) -> Opening:
    """Return what a hunt on this work order can be opened with.

    Raises
    ------
    NotFound
        There is no such work order.
    """
    demand(viewer.role, Act.FIND_FAULTS)
    order = WorkOrder.objects.with_people().filter(pk=work_order_id).first()
    if order is None:
        raise NotFound(
            "work-order-not-found", "There is no such work order.", "work_order_id"
        )
    bike = order.bike
    drawings = drawings_for(
        viewer=viewer, nominal_volts=bike.system_volts, earth=bike.earth
    )
    named = [
        line.harness_file_id
        for line in drawings
        if (line.maker.lower(), line.model.lower())
        == (bike.maker.lower(), bike.model.lower())
    ]
    return Opening(
        work_order_id=order.pk,
        work_order=order.label,
        bike=bike.name,
        complaint=order.complaint,
        system_volts=bike.system_volts,
        earth=bike.earth,
        drawings=drawings,
        best_drawing=_best(named, drawings),
    )


def _best(named: list[int], drawings: tuple[HarnessFileLine, ...]) -> int | None:
    if named:
        return named[0]
    return drawings[0].harness_file_id if len(drawings) == 1 else None
