"""What a hunt can be opened with."""

import pytest

from diagnostics.selectors.openings import opening_page
from shop.domain.refusals import NotAllowed, NotFound
from tests.builders import BikeFactory, FrontDeskFactory, UserFactory
from tests.diagnostics.builders import BENCH_TOML, a_library_file, a_work_order

pytestmark = pytest.mark.django_db


def test_the_drawing_of_the_same_bike_is_chosen_beforehand() -> None:
    own = a_library_file()
    a_library_file(model="Heron 500", text=BENCH_TOML + "\n# another\n")
    order = a_work_order()
    page = opening_page(work_order_id=order.pk, viewer=UserFactory.create().as_viewer())
    assert (page.bike, page.complaint) == (order.bike.name, order.complaint)
    assert page.best_drawing == own.pk
    assert len(page.drawings) == 2


def test_a_bike_of_another_polarity_has_no_drawing() -> None:
    a_library_file()
    order = a_work_order(bike=BikeFactory.create(earth="positive"))
    page = opening_page(work_order_id=order.pk, viewer=UserFactory.create().as_viewer())
    assert (page.drawings, page.best_drawing) == ((), None)


def test_only_those_who_find_faults_open_a_hunt() -> None:
    with pytest.raises(NotAllowed):
        opening_page(
            work_order_id=a_work_order().pk,
            viewer=FrontDeskFactory.create().as_viewer(),
        )
    with pytest.raises(NotFound):
        opening_page(work_order_id=10**15, viewer=UserFactory.create().as_viewer())
