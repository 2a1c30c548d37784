"""The pages on which measurements are chosen, taken and read."""

from dataclasses import dataclass

from diagnostics.models import Measurement
from diagnostics.selectors.cases import CaseHead, case_head
from diagnostics.selectors.measurements import (
    KindView,
    MeasurementView,
    kind_view_named,
    kind_views,
    measurement_view,
    measurement_views,
)
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer, demand


@dataclass(frozen=True, kw_only=True)
class MeasurementsPage:
    """A case's measurements, and the kinds that can be taken on its bike."""

    head: CaseHead
    measurements: tuple[MeasurementView, ...]
    kinds: tuple[KindView, ...]


@dataclass(frozen=True, kw_only=True)
class MeasuringPage:
    """One kind, about to be taken."""

    head: CaseHead
    kind: KindView


@dataclass(frozen=True, kw_only=True)
class MeasurementPage:
    """One measurement and the case that it belongs to."""

    head: CaseHead
    measurement: MeasurementView


def measurements_page(*, case_id: int, viewer: Viewer) -> MeasurementsPage:
    """Return a case's measurements and what else can be measured.

    Raises
    ------
    NotFound
        There is no such case.
    """
    head = case_head(case_id=case_id, viewer=viewer)
    return MeasurementsPage(
        head=head,
        measurements=measurement_views(case_id=case_id),
        kinds=kind_views(volts=head.nominal_volts, earth=head.earth),
    )


def measuring_page(*, case_id: int, kind: str, viewer: Viewer) -> MeasuringPage:
    """Return how a kind of measurement is taken on a case's bike.

    Raises
    ------
    NotFound
        There is no such case or kind.
    """
    head = case_head(case_id=case_id, viewer=viewer)
    shown = kind_view_named(kind, volts=head.nominal_volts, earth=head.earth)
    return MeasuringPage(head=head, kind=shown)


def measurement_page(*, measurement_id: int, viewer: Viewer) -> MeasurementPage:
    """Return one measurement with its case.

    Raises
    ------
    NotFound
        There is no such measurement.
    """
    demand(viewer.role, Act.SEE_SHOP)
    row = Measurement.objects.with_people().filter(pk=measurement_id).first()
    if row is None:
        raise NotFound(
            "measurement-not-found", "There is no such measurement.", "measurement_id"
        )
    return MeasurementPage(
        head=case_head(case_id=row.case_id, viewer=viewer),
        measurement=measurement_view(row),
    )
