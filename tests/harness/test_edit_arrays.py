"""The edits of many faults as arrays of one shape."""

from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harness.circuit import Network
from harness.edit_arrays import (
    CUT,
    HELD,
    NONE,
    SERIES,
    SHUNT,
    EditArrays,
    arrays_of,
    edit_arrays,
    edits_of_nothing,
)
from harness.edits import Cut, Edit, Held, Series, Shunt, middle_of
from harness.faults import single_faults
from harness.model import Harness
from harness.network import compile_network
from harness.rig import rig_from
from tests.harness.faulty_looms import changeover, side_by_side


@cache
def heaters() -> Harness:
    return side_by_side()


@cache
def net() -> Network:
    return compile_network(heaters(), rig_from(heaters(), {}))


def test_a_row_says_kind_branch_and_ohms_of_each_edit() -> None:
    wire, plug = net().branch_of["wire:4"], net().branch_of["plug:plug.1"]
    rows: list[list[Edit]] = [[Series(wire, 3.0, 0.8)], [Cut(plug)], []]
    made = arrays_of(net(), rows)
    assert made.kind[:, 0].tolist() == [SERIES, CUT, NONE]
    assert (made.kind[:, 1:] == NONE).all()
    assert made.branch[:, 0].tolist() == [wire, plug, -1]
    assert made.ohm[:, 0].tolist() == [3.0, 0.0, 0.0]
    assert made.emf_ratio[:, 0].tolist() == [0.8, 1.0, 1.0]
    for row, k in ((0, wire), (1, plug)):
        assert made.node[row, 0, :2].tolist() == [net().a[k], net().b[k]]
        assert made.weight[row, 0].tolist() == [1.0, -1.0, 0.0, 0.0]


def test_a_middle_is_half_of_each_end_and_adds_a_quarter_of_the_wire() -> None:
    four, five = net().branch_of["wire:4"], net().branch_of["wire:5"]
    frame = net().node_of["frame.left"]
    rows: list[list[Edit]] = [
        [Shunt(middle_of(four), middle_of(five), 0.05)],
        [Shunt(middle_of(four), frame, 0.05)],
        [Shunt(frame, net().node_of["plug.1a"], 0.05)],
    ]
    made = arrays_of(net(), rows)
    assert (made.kind[:, 0] == SHUNT).all()
    assert made.ohm[:, 0] == pytest.approx([0.05 + 2 * 0.0025, 0.05 + 0.0025, 0.05])
    assert made.weight[0, 0].tolist() == [0.5, 0.5, -0.5, -0.5]
    assert made.weight[1, 0].tolist() == [0.5, 0.5, -1.0, 0.0]
    assert made.weight[2, 0].tolist() == [1.0, 0.0, -1.0, 0.0]
    assert made.middle[:, 0].tolist() == [[four, five], [four, -1], [-1, -1]]


def test_a_held_contact_has_its_two_ends_where_a_shunt_has_its_points() -> None:
    h = changeover()
    here = compile_network(h, rig_from(h, {}))
    k = here.branch_of["relay:relay.contact"]
    made = arrays_of(here, [[Held(k)]])
    assert made.kind[0, 0] == HELD
    assert made.node[0, 0, [0, 2]].tolist() == [here.a[k], here.b[k]]
    assert made.weight[0, 0].tolist() == [1.0, 0.0, -1.0, 0.0]
    assert made.ohm[0, 0] == pytest.approx(0.01)


def test_nothing_is_one_row_without_edits() -> None:
    assert edits_of_nothing().kind.shape == (1, 0)
    assert edits_of_nothing().node.shape == (1, 0, 4)
    healthy = edit_arrays(heaters(), net(), [None])
    assert (healthy.kind == NONE).all()


def same(one: EditArrays, other: EditArrays) -> bool:
    return all(
        np.array_equal(getattr(one, name), getattr(other, name))
        for name in ("kind", "branch", "ohm", "emf_ratio", "node", "weight", "middle")
    )


@cache
def every() -> EditArrays:
    return edit_arrays(heaters(), net(), single_faults(heaters()))


# A busy machine is no failure.
CALM = settings(deadline=None)
ROW = st.integers(0, len(single_faults(side_by_side())) - 1)


@CALM
@given(st.lists(ROW, min_size=1, max_size=6))
def test_some_rows_are_the_edits_of_those_faults(rows: list[int]) -> None:
    faults = [single_faults(heaters())[row] for row in rows]
    picked = every().rows(np.array(rows))
    alone = edit_arrays(heaters(), net(), faults)
    assert same(picked, alone.rows(np.arange(len(rows))))
    # No column that none of them needs.
    assert picked.kind.shape[1] == (picked.kind != NONE).sum(axis=1).max()


@CALM
@given(st.lists(ROW, min_size=1, max_size=3), st.lists(ROW, min_size=1, max_size=3))
def test_more_rows_come_after_the_others(first: list[int], then: list[int]) -> None:
    faults = single_faults(heaters())
    one = edit_arrays(heaters(), net(), [faults[k] for k in first])
    two = edit_arrays(heaters(), net(), [faults[k] for k in then])
    both = edit_arrays(heaters(), net(), [faults[k] for k in (*first, *then)])
    assert same(one.with_more(two), both)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(ROW, ROW, ROW), min_size=1, max_size=4))
def test_a_set_has_all_edits_of_its_members_what_joins_first(
    sets: list[tuple[int, int, int]],
) -> None:
    made = every().together(np.array(sets))
    assert (np.diff(made.kind, axis=1) >= 0).all()
    for row, members in enumerate(sets):
        own = every().kind[list(members)].ravel()
        kinds = made.kind[row]
        assert kinds[kinds != NONE].tolist() == sorted(own[own != NONE].tolist())
        for kind in (SERIES, CUT):
            here = made.branch[row][kinds == kind].tolist()
            theirs = every().branch[list(members)].ravel()[own == kind].tolist()
            assert sorted(here) == sorted(theirs)
