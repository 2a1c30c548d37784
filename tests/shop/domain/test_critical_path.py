"""The critical path against a published example, and against networkx."""

from decimal import Decimal
from itertools import pairwise
from math import erf, sqrt

import networkx as nx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shop.domain.critical_path import Network, critical_path, free_float, times
from shop.domain.estimates import ThreePoint, means

# Hillier and Lieberman, "Introduction to Operations Research", the chapter on project
# management with PERT/CPM, its house-building example of fourteen activities: what
# each needs, its three guesses in weeks, and the published mean and variance.
# Tag mem: written down from memory of the book; the sums below hold by themselves.
HOUSE = {
    "A": ("", ("1", "2", "3"), 2, (1, 9)),
    "B": ("A", ("2", "3.5", "8"), 4, (1, 1)),
    "C": ("B", ("6", "9", "18"), 10, (4, 1)),
    "D": ("C", ("4", "5.5", "10"), 6, (1, 1)),
    "E": ("C", ("1", "4.5", "5"), 4, (4, 9)),
    "F": ("E", ("4", "4", "10"), 5, (1, 1)),
    "G": ("D", ("5", "6.5", "11"), 7, (1, 1)),
    "H": ("EG", ("5", "8", "17"), 9, (4, 1)),
    "I": ("C", ("3", "7.5", "9"), 7, (1, 1)),
    "J": ("FI", ("3", "9", "9"), 8, (1, 1)),
    "K": ("J", ("4", "4", "4"), 4, (0, 1)),
    "L": ("J", ("1", "5.5", "7"), 5, (1, 1)),
    "M": ("H", ("1", "2", "3"), 2, (1, 9)),
    "N": ("KL", ("5", "5.5", "9"), 6, (4, 9)),
}
EARLIEST_START = dict(
    zip(HOUSE, (0, 2, 6, 16, 16, 20, 22, 29, 16, 25, 33, 33, 38, 38), strict=True)
)
LATEST_START = dict(
    zip(HOUSE, (0, 2, 6, 20, 16, 20, 26, 33, 18, 25, 34, 33, 42, 38), strict=True)
)
PUBLISHED_WEEKS = 44
PUBLISHED_PATH = "ABCEFJLN"
PUBLISHED_VARIANCE = 9
PUBLISHED_CHANCE_OF_47_WEEKS = 0.84


def house() -> tuple[Network, dict[str, ThreePoint]]:
    network = Network.of(
        {ord(task): [ord(w) for w in row[0]] for task, row in HOUSE.items()}
    )
    guesses = {
        task: ThreePoint(*(Decimal(weeks) for weeks in row[1]))
        for task, row in HOUSE.items()
    }
    return network, guesses


def test_the_published_means_and_variances_come_out() -> None:
    _, guesses = house()
    for task, (_, _, mean, (top, bottom)) in HOUSE.items():
        assert guesses[task].mean == mean
        assert guesses[task].variance * bottom == pytest.approx(top)


def test_the_published_start_times_length_and_path_come_out() -> None:
    network, guesses = house()
    in_order = [guesses[chr(task)] for task in network.tasks]
    passed = times(network, means(in_order, steps_a_unit=1)[:, 0])
    tasks = [chr(task) for task in network.tasks]
    assert dict(zip(tasks, passed.earliest_start, strict=True)) == EARLIEST_START
    assert dict(zip(tasks, passed.latest_start, strict=True)) == LATEST_START
    assert passed.finish == PUBLISHED_WEEKS
    path = "".join(chr(task) for task in critical_path(network, passed))
    assert path == PUBLISHED_PATH
    critical = {t for t, is_so in zip(tasks, passed.is_critical, strict=True) if is_so}
    assert critical == set(PUBLISHED_PATH)


def test_the_published_chance_of_keeping_the_deadline_comes_out() -> None:
    _, guesses = house()
    mean = sum(guesses[task].mean for task in PUBLISHED_PATH)
    variance = sum(guesses[task].variance for task in PUBLISHED_PATH)
    assert mean == PUBLISHED_WEEKS
    assert variance == pytest.approx(PUBLISHED_VARIANCE)
    standard = (47 - int(mean)) / sqrt(variance)
    chance = (1 + erf(standard / sqrt(2))) / 2
    assert chance == pytest.approx(PUBLISHED_CHANCE_OF_47_WEEKS, abs=0.005)


def test_a_task_that_waits_for_a_part_begins_the_critical_path() -> None:
    network = Network.of({1: [], 2: [1], 3: []})
    passed = times(
        network, np.array([2, 3, 4]), release=np.array([0, 9, 0], dtype=np.int64)
    )
    assert critical_path(network, passed) == (2,)
    assert int(passed.finish) == 12
    assert passed.total_float.tolist() == [7, 0, 8]


def test_tasks_that_need_each_other_in_a_circle_are_refused() -> None:
    with pytest.raises(ValueError, match="circle"):
        Network.of({1: [2], 2: [3], 3: [1]})


def test_nothing_to_do_has_no_critical_path() -> None:
    empty = Network.of({})
    assert empty.tasks == ()


@st.composite
def jobs(draw: st.DrawFn) -> tuple[dict[int, list[int]], list[int]]:
    size = draw(st.integers(1, 12))
    order = draw(st.permutations(range(size)))
    needs = {
        task: sorted(draw(st.sets(st.sampled_from(order[:place]))) if place else [])
        for place, task in enumerate(order)
    }
    shuffled = {task: needs[task] for task in draw(st.permutations(range(size)))}
    return shuffled, draw(st.lists(st.integers(1, 40), min_size=size, max_size=size))


@settings(max_examples=50)
@given(jobs())
def test_the_length_and_the_path_are_those_of_the_longest_path_in_networkx(
    job: tuple[dict[int, list[int]], list[int]],
) -> None:
    needs, minutes = job
    network = Network.of(needs)
    passed = times(network, np.array([minutes[task] for task in network.tasks]))
    graph = nx.DiGraph()
    for task, wanted in needs.items():
        graph.add_edge((task, "begun"), (task, "done"), weight=minutes[task])
        for other in wanted:
            graph.add_edge((other, "done"), (task, "begun"), weight=0)
    assert passed.finish == nx.dag_longest_path_length(graph)
    path = critical_path(network, passed)
    assert sum(minutes[task] for task in path) == passed.finish
    assert all(a in needs[b] for a, b in pairwise(path))
    row = {task: number for number, task in enumerate(network.tasks)}
    assert all(passed.is_critical[row[task]] for task in path)


@settings(max_examples=50)
@given(jobs())
def test_floats_hold_together_and_slipping_within_them_delays_nothing(
    job: tuple[dict[int, list[int]], list[int]],
) -> None:
    needs, minutes = job
    network = Network.of(needs)
    took = np.array([minutes[task] for task in network.tasks])
    passed = times(network, took)
    free = free_float(network, passed)
    assert (free >= 0).all()
    assert (free <= passed.total_float).all()
    assert passed.is_critical.any()
    for row, slack in enumerate(passed.total_float):
        longer = took.copy()
        longer[row] += slack
        assert times(network, longer).finish == passed.finish
        longer[row] += 1
        assert times(network, longer).finish == passed.finish + 1


@settings(max_examples=50)
@given(jobs(), st.integers(0, 1000))
def test_many_draws_at_once_are_each_as_alone(
    job: tuple[dict[int, list[int]], list[int]], seed: int
) -> None:
    needs, minutes = job
    network = Network.of(needs)
    draws = np.random.default_rng(seed).integers(0, 9, size=(len(minutes), 5))
    together = times(network, draws)
    for number in range(5):
        alone = times(network, draws[:, number])
        assert together.finish[number] == alone.finish
        assert (together.total_float[:, number] == alone.total_float).all()
