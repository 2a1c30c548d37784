"""The pages on which measurements are chosen, taken and read."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from diagnostics.actions.measurements import MeasurementEntry, record_measurement
from diagnostics.models import Case, Measurement
from diagnostics.selectors.measuring import (
    measurement_page,
    measurements_page,
    measuring_page,
)
from shop.domain.refusals import NotFound
from tests.builders import MORNING, UserFactory
from tests.diagnostics.builders import a_case

pytestmark = pytest.mark.django_db


def measured(case: Case, key: str = "tap") -> Measurement:
    return record_measurement(
        case_id=case.pk,
        entry=MeasurementEntry(
            kind="cranking", readings={"cranking_v": 10.1, "battery_c": 20}
        ),
        key=key,
        acting_user=UserFactory.create(),
        at=MORNING,
    )


def test_the_list_asks_the_database_no_more_for_many_than_for_one() -> None:
    case, viewer = a_case(), UserFactory.create().as_viewer()
    counts = []
    for key in ("one", "two", "three"):
        measured(case, key)
        with CaptureQueriesContext(connection) as queries:
            page = measurements_page(case_id=case.pk, viewer=viewer)
        counts.append(len(queries))
        assert len(page.measurements) == len(counts)
    assert counts == [2, 2, 2]


def test_a_kind_is_shown_for_the_volts_and_polarity_of_the_drawing() -> None:
    viewer = UserFactory.create().as_viewer()
    page = measuring_page(case_id=a_case().pk, kind="cranking", viewer=viewer)
    assert page.kind.limits[0].words.startswith("Battery voltage while cranking: 9.6 V")
    assert page.head.title == "Horn dead"


def test_one_measurement_is_shown_with_its_case() -> None:
    case = a_case()
    viewer = UserFactory.create().as_viewer()
    page = measurement_page(measurement_id=measured(case).pk, viewer=viewer)
    assert (page.head.case_id, page.measurement.verdict) == (case.pk, "good")


def test_what_is_not_there_is_not_found() -> None:
    viewer = UserFactory.create().as_viewer()
    case = a_case()
    with pytest.raises(NotFound):
        measurement_page(measurement_id=10**15, viewer=viewer)
    with pytest.raises(NotFound):
        measurements_page(case_id=10**15, viewer=viewer)
    with pytest.raises(NotFound):
        measuring_page(case_id=case.pk, kind="tea", viewer=viewer)
