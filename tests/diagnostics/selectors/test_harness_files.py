"""The library as a list and one by one."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from diagnostics.selectors.harness_files import (
    drawings_for,
    harness_file_page,
    library,
)
from shop.domain.refusals import NotFound
from tests.builders import StorekeeperFactory, UserFactory
from tests.diagnostics.builders import BENCH_TOML, a_library_file

pytestmark = pytest.mark.django_db


def test_the_shelf_is_ordered_by_bike_and_searched_by_words() -> None:
    viewer = UserFactory.create().as_viewer()
    a_library_file(model="Heron 500", text=BENCH_TOML + "\n# another\n")
    a_library_file(model="Heron 350")
    names = [line.name for line in library(viewer=viewer).lines]
    assert names == ["Tarnfell Heron 350 1961", "Tarnfell Heron 500 1961"]
    found = library(viewer=viewer, words="tarn 500").lines
    assert [line.model for line in found] == ["Heron 500"]
    assert library(viewer=viewer, words="sparrow").lines == ()


def test_only_those_who_keep_the_library_may_add() -> None:
    assert library(viewer=UserFactory.create().as_viewer()).may_add
    assert not library(viewer=StorekeeperFactory.create().as_viewer()).may_add


def test_a_long_shelf_costs_as_many_queries_as_a_short_one() -> None:
    viewer = UserFactory.create().as_viewer()
    for number in range(4):
        a_library_file(model=f"Heron {number}", text=f"{BENCH_TOML}\n# {number}\n")
    with CaptureQueriesContext(
        connection,
    ) as queries:
        library(viewer=viewer)
    assert len(queries) == 1


def test_a_drawing_shows_wires_with_letters_and_words() -> None:
    file = a_library_file()
    page = harness_file_page(
        harness_file_id=file.pk, viewer=UserFactory.create().as_viewer()
    )
    assert page.text == BENCH_TOML
    assert [wire.wire_id for wire in page.wires][:3] == ["1", "2", "3"]
    wire = next(wire for wire in page.wires if wire.wire_id == "4")
    assert (wire.letters, wire.colour) == ("GYBK", "grey with black tracer")
    assert (wire.start, wire.end, wire.size, wire.length) == (
        "horn.2",
        "horn-button.1",
        "1 mm²",
        "0.6 m",
    )
    horn = next(device for device in page.devices if device.device_id == "horn")
    assert (horn.title, horn.kind, horn.place) == ("Horn", "load", "Headlamp shell")


def test_a_bike_is_offered_the_drawings_of_its_kind() -> None:
    viewer = UserFactory.create().as_viewer()
    a_library_file()
    assert len(drawings_for(viewer=viewer, nominal_volts=12, earth="negative")) == 1
    assert drawings_for(viewer=viewer, nominal_volts=12, earth="positive") == ()
    assert drawings_for(viewer=viewer, nominal_volts=6, earth="negative") == ()


def test_there_is_no_drawing_of_that_number() -> None:
    with pytest.raises(NotFound):
        harness_file_page(
            harness_file_id=10**15, viewer=UserFactory.create().as_viewer()
        )
