"""The board: every open state has its column."""

from datetime import timedelta

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.domain.lifecycle import ENDED, State
from shop.selectors.board import board, state_counts
from tests.builders import MORNING, UserFactory, WorkOrderFactory

pytestmark = pytest.mark.django_db


def test_every_state_is_counted_empty_ones_too(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    WorkOrderFactory.create_batch(3, state="waiting")
    WorkOrderFactory(state="closed")
    viewer = UserFactory().as_viewer()
    with django_assert_num_queries(1):
        counts = {row.state: row.count for row in state_counts(viewer=viewer)}
    assert counts == {
        **dict.fromkeys((state.value for state in State), 0),
        "waiting": 3,
        "closed": 1,
    }


def test_who_waits_longest_stands_first(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    young = WorkOrderFactory(state="waiting")
    old = WorkOrderFactory(state="waiting", state_since=MORNING - timedelta(days=9))
    WorkOrderFactory(state="called_off")
    viewer = UserFactory().as_viewer()
    with django_assert_num_queries(2):
        columns = {column.state: column for column in board(viewer=viewer)}
    assert not ENDED.intersection(columns)
    waiting = columns["waiting"]
    assert [row.id for row in waiting.rows] == [old.pk, young.pk]
    assert (waiting.count, columns["ready"].count) == (2, 0)
