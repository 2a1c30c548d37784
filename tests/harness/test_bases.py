"""One factorisation of a network in one state, and what it gives."""

import numpy as np
import pytest

from harness.bases import LEAK_OHM, Base, factorise
from harness.circuit import Circuit
from harness.network import compile_network
from harness.rig import rig_from
from harness.solver import solve_network
from tests.harness.library import LOOMS, everything_on, loom
from tests.harness.small_looms import BRAKE, horn_and_tail


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
    return float(base.z_ohm[a, a] + base.z_ohm[b, b] - 2 * base.z_ohm[a, b])


def test_an_ampere_put_in_raises_the_volts_of_the_textbook() -> None:
    # 3 // (6 + 2), 2 // (6 + 3) and 6 // (3 + 2) ohm, by hand.
    base = base_of(bridge())
    assert two_point(base, "a", "0") == pytest.approx(24 / 11)
    assert two_point(base, "b", "0") == pytest.approx(18 / 11)
    assert two_point(base, "a", "b") == pytest.approx(30 / 11)
    a, b = base.net.node_of["a"], base.net.node_of["b"]
    assert base.z_ohm[a, b] == pytest.approx(base.z_ohm[b, a])


def test_an_island_hangs_on_a_leak_that_no_meter_sees() -> None:
    circuit = bridge()
    circuit.add_resistor("x", "y", ohm=5.0)
    base = base_of(circuit)
    x, y, a = (base.net.node_of[n] for n in "xya")
    assert base.island[x] == base.island[y] != base.island[a]
    assert two_point(base, "x", "a") == pytest.approx(LEAK_OHM, rel=1e-6)
    near = base.near_ohm[x, x] + base.near_ohm[y, y] - 2 * base.near_ohm[x, y]
    assert float(near) == pytest.approx(5.0)
    assert float(base.near_ohm[x, a]) == 0.0


@pytest.mark.parametrize("file", LOOMS)
def test_its_volts_are_those_of_the_solver(file: str) -> None:
    net = compile_network(loom(file), rig_from(loom(file), everything_on(file)))
    solution = solve_network(net)
    base = factorise(net, solution.on.tobytes())
    assert base.volts == pytest.approx(solution.volts, abs=1e-6)
    conducting = solution.g_s > 0
    assert base.g_s[conducting] == pytest.approx(solution.g_s[conducting], rel=1e-6)


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
    excess = base.filaments.excess_amps(base.across_lamps(base.volts))
    assert excess == pytest.approx([0.0, 0.0], abs=1e-6)
    assert base.lamp_columns.shape == (len(net.nodes), 2)


def test_a_state_is_factorised_once() -> None:
    net = bridge().network()
    state = np.ones(3, dtype=bool).tobytes()
    assert factorise(net, state) is factorise(net, state)
