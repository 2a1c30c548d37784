"""One factorisation of a network in one state, and what it gives."""

import numpy as np
import pytest

from harness.bases import Base, factorise
from harness.circuit import Circuit
from harness.network import compile_network
from harness.rig import rig_from
from harness.solver import islands, settle_lamps, solve_network
from tests.harness.library import LOOMS, everything_on, loom
from tests.harness.small_looms import BRAKE, bulbs_in_series, horn_and_tail


def base_of(circuit: Circuit) -> Base:
    net = circuit.network()
    return factorise(net, solve_network(net).on.tobytes())


def bridge() -> Circuit:
    circuit = Circuit(reference="0")
    circuit.add_resistor("0", "a", ohm=3.0)
    circuit.add_resistor("a", "b", ohm=6.0)
    circuit.add_resistor("b", "0", ohm=2.0)
    return circuit


def two_point(base: Base, one: str, two: str) -> float:
    a, b = base.net.node_of[one], base.net.node_of[two]
    near = base.near_ohm
    return float(near[a, a] + near[b, b] - 2 * near[a, b])


def test_an_ampere_put_in_raises_the_volts_of_the_textbook() -> None:
    # 3 // (6 + 2), 2 // (6 + 3) and 6 // (3 + 2) ohm, by hand.
    base = base_of(bridge())
    assert two_point(base, "a", "0") == pytest.approx(24 / 11)
    assert two_point(base, "b", "0") == pytest.approx(18 / 11)
    assert two_point(base, "a", "b") == pytest.approx(30 / 11)
    a, b = base.net.node_of["a"], base.net.node_of["b"]
    assert base.near_ohm[a, b] == pytest.approx(base.near_ohm[b, a])


def test_nothing_is_felt_from_one_island_to_another() -> None:
    circuit = bridge()
    circuit.add_resistor("x", "y", ohm=5.0)
    base = base_of(circuit)
    x, y, a = (base.net.node_of[n] for n in "xya")
    assert base.island[x] == base.island[y] != base.island[a]
    assert two_point(base, "x", "y") == pytest.approx(5.0)
    assert base.near_ohm[[x, y], a].tolist() == [0.0, 0.0]
    assert base.near_ohm[a, [x, y]].tolist() == [0.0, 0.0]


@pytest.mark.parametrize("file", LOOMS)
def test_its_volts_are_those_of_the_solver(file: str) -> None:
    net = compile_network(loom(file), rig_from(loom(file), everything_on(file)))
    solution = solve_network(net)
    base = factorise(net, solution.on.tobytes())
    assert base.volts == pytest.approx(solution.volts, abs=1e-8)
    conducting = solution.g_s > 0
    assert base.g_s[conducting] == pytest.approx(solution.g_s[conducting], rel=1e-7)
    assert base.island.tolist() == islands(net, solution.on).tolist()


@pytest.mark.parametrize("file", LOOMS)
def test_its_inverse_is_that_of_the_filaments_as_warm_as_they_are(file: str) -> None:
    # Found cold and warmed afterwards, or put in warm and turned round: all the same.
    net = compile_network(loom(file), rig_from(loom(file), everything_on(file)))
    base = factorise(net, solve_network(net).on.tobytes())
    _, warm_s = settle_lamps(net, base.on)
    random = np.random.default_rng(7)
    joined = np.flatnonzero(base.island == base.island[net.reference])
    for a, b in random.choice(joined, size=(20, 2)):
        amps = np.zeros(len(net.nodes))
        amps[a] += 1.0
        amps[b] -= 1.0
        volts = base.near_ohm @ amps
        drop = volts[net.a] - volts[net.b]
        back = np.zeros(len(net.nodes))
        np.add.at(back, net.a, warm_s * drop)
        np.add.at(back, net.b, -warm_s * drop)
        assert back[joined] == pytest.approx(amps[joined], abs=1e-6)


def test_filaments_are_fixed_at_what_they_are_in_the_healthy_bike() -> None:
    h = horn_and_tail()
    net = compile_network(h, rig_from(h, BRAKE))
    base = factorise(net, solve_network(net).on.tobytes())
    assert [net.segments[k] for k in base.lamps] == [
        "device:rear-lamp.tail",
        "device:rear-lamp.stop",
    ]
    assert base.filaments.fixed_s == pytest.approx(base.g_s[base.lamps])
    # What they draw beyond that is nothing in the healthy bike itself.
    drop = base.volts[net.a[base.lamps]] - base.volts[net.b[base.lamps]]
    assert base.filaments.excess_amps(drop) == pytest.approx([0.0, 0.0], abs=1e-9)


def test_bulbs_in_series_share_the_volts_and_end_up_warm() -> None:
    h = bulbs_in_series(4)
    net = compile_network(h, rig_from(h, {}))
    base = factorise(net, solve_network(net).on.tobytes())
    lamps = base.lamps
    drop = base.volts[net.a[lamps]] - base.volts[net.b[lamps]]
    assert drop == pytest.approx([float(drop[0])] * 4)
    # 12.6 V less what the wires take, over four bulbs of 3 V: a little over-run.
    assert 3.0 < float(drop[0]) < 3.15
    assert (base.filaments.fixed_s < net.g_s[lamps]).all()


def test_a_state_is_factorised_once() -> None:
    net = bridge().network()
    state = np.ones(3, dtype=bool).tobytes()
    assert factorise(net, state) is factorise(net, state)
    other = np.array([True, True, False]).tobytes()
    assert factorise(net, other) is not factorise(net, state)
