"""Suppliers are found by word, and a retired one takes nothing new."""

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.domain.refusals import NotFound
from shop.selectors.suppliers import supplier_list, supplier_page, suppliers_in_use
from tests.builders import StorekeeperFactory, SupplierFactory

pytestmark = pytest.mark.django_db


def test_suppliers_are_found_by_word_and_say_what_they_do() -> None:
    viewer = StorekeeperFactory().as_viewer()
    plater = SupplierFactory(name="Oxbow Platers", trades=["plating", "paint"])
    SupplierFactory(name="Fold Foundry", is_retired=True)
    (row,) = supplier_list(viewer=viewer, search="oxbow").rows
    assert (row.id, row.trades_text) == (plater.pk, "Plating and polishing, Paint")
    assert [row.name for row in suppliers_in_use()] == ["Oxbow Platers"]
    assert supplier_list(viewer=viewer, retired_too=True).total == 2


def test_a_long_list_costs_two_queries(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    viewer = StorekeeperFactory().as_viewer()
    for size in (1, 8):
        SupplierFactory.create_batch(size)
        with django_assert_num_queries(2):
            supplier_list(viewer=viewer)


def test_an_unknown_supplier_is_not_found() -> None:
    with pytest.raises(NotFound):
        supplier_page(supplier_id=404, viewer=StorekeeperFactory().as_viewer())
