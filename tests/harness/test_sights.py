"""Some nodes of a factorised network, those that are looked at."""

import numpy as np
import pytest

from harness.bases import Base, factorise
from harness.network import compile_network
from harness.rig import rig_from
from harness.sights import Sight
from harness.solver import solve_network
from tests.harness.small_looms import BRAKE, horn_and_tail


def base() -> Base:
    h = horn_and_tail()
    net = compile_network(h, rig_from(h, BRAKE))
    return factorise(net, solve_network(net).on.tobytes())


def test_all_nodes_are_seen_unless_some_are_named() -> None:
    here = base()
    every = Sight.of(here)
    assert every.nodes.tolist() == every.at.tolist() == list(range(len(here.volts)))
    assert every.near_ohm is here.near_ohm


def test_a_node_that_is_not_looked_at_stands_nowhere() -> None:
    here = base()
    nodes = np.array([5, 2, 9])
    some = Sight.of(here, nodes)
    assert some.at[nodes].tolist() == [0, 1, 2]
    assert (np.delete(some.at, nodes) == -1).all()
    assert np.array_equal(some.near_ohm, here.near_ohm[:, nodes])


def test_a_filament_s_column_is_volts_for_an_ampere_through_it() -> None:
    here = base()
    every = Sight.of(here)
    assert every.lamp_columns.shape == (len(here.volts), 2)
    # An ampere through the stop lamp, in at its feed pin and out at its return.
    net = here.net
    k = net.branch_of["device:rear-lamp.stop"]
    lamp = here.lamps.tolist().index(k)
    pushed = np.zeros(len(here.volts))
    pushed[net.a[k]], pushed[net.b[k]] = 1.0, -1.0
    assert every.lamp_columns[:, lamp] == pytest.approx(here.near_ohm @ pushed)


def test_node_volts_become_the_volts_of_the_filaments() -> None:
    here = base()
    net, every = here.net, Sight.of(here)
    drop = every.across_lamps(here.volts)
    a, b = net.a[here.lamps], net.b[here.lamps]
    assert drop.tolist() == (here.volts[a] - here.volts[b]).tolist()
    ends = np.unique(np.concatenate([a, b]))
    some = Sight.of(here, ends)
    assert some.across_lamps(here.volts[ends]).tolist() == drop.tolist()
