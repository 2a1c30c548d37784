"""What the bench tells of one bike."""

import pytest

from diagnostics.selectors.bike_histories import case_titles, drawing_of_bike
from shop.selectors.bikes import bike_page
from shop.selectors.timeline import bike_timeline
from tests.builders import BikeFactory, OwnerFactory
from tests.diagnostics.builders import a_case_with_complaint

pytestmark = pytest.mark.django_db


def test_a_hunt_stands_on_the_bikes_time_line_and_its_page_names_the_drawing() -> None:
    case = a_case_with_complaint()
    bike_id = case.work_order.bike_id
    viewer = OwnerFactory().as_viewer()
    found = bike_timeline(bike_id=bike_id, viewer=viewer, kind="findings")
    assert "finding.taken" in {row.verb for row in found.rows}
    assert {row.link_text for row in found.rows} == {case.title}
    drawing = drawing_of_bike(bike_id=bike_id)
    assert drawing is not None
    assert drawing.harness_file_id == case.harness_file_id
    (loom,) = bike_page(bike_id=bike_id, viewer=viewer).looms
    assert (loom.text, loom.used_at) == (drawing.name, drawing.used_at)


def test_a_bike_without_a_hunt_names_no_drawing() -> None:
    assert drawing_of_bike(bike_id=BikeFactory().pk) is None
    assert case_titles(case_ids=[404]) == {}
