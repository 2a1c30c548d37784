"""A circuit put together branch by branch, and what it refuses."""

import numpy as np
import pytest

from harness.circuit import Branch, Circuit, CircuitError, Role, with_extra
from harness.solver import solve_network


def divider() -> Circuit:
    circuit = Circuit(reference="0")
    circuit.add_source("top", "0", volts=12.0, ohm=0.5)
    circuit.add_resistor("top", "middle", ohm=2.0, segment="R1")
    circuit.add_lamp("middle", "0", watts=24.0, at_volts=12.0, segment="L1")
    return circuit


def test_branches_become_arrays_in_the_order_in_which_they_were_added() -> None:
    net = divider().network()
    assert net.segments == ("source1", "R1", "L1")
    assert net.nodes[net.reference] == "0"
    ends = [(net.nodes[a], net.nodes[b]) for a, b in zip(net.a, net.b, strict=True)]
    assert ends == [("top", "0"), ("top", "middle"), ("middle", "0")]
    assert net.g_s == pytest.approx([2.0, 0.5, 1 / 6])
    assert net.emf_v.tolist() == [12.0, 0.0, 0.0]
    assert net.limit.tolist() == [0.0, 0.0, 12.0]


def test_branches_are_found_by_role_and_by_name() -> None:
    net = divider().network()
    assert net.of_role(Role.LAMP).tolist() == [2]
    assert net.of_role(Role.SOURCE, Role.FIXED).tolist() == [0, 1]
    assert net.branch_of["R1"] == 1


def test_terminals_of_one_metal_are_one_node() -> None:
    circuit = divider()
    circuit.aliases = {"bracket": "0", "shell": "0"}
    circuit.extra_nodes = ["loose"]
    net = circuit.network()
    assert net.node_of["bracket"] == net.node_of["shell"] == net.reference
    assert net.node_of["loose"] not in {net.a.max(), net.b.max(), net.reference}
    assert len(net.nodes) == 4


def test_a_contact_knows_its_coil() -> None:
    circuit = divider()
    circuit.add(Branch("coil", "top", "0", 80.0))
    contact = Branch("contact", "top", "out", 0.01, role=Role.MAKE, coil="coil")
    circuit.add(contact)
    net = circuit.network()
    assert net.coil_of.tolist() == [-1, -1, -1, -1, net.branch_of["coil"]]


@pytest.mark.parametrize("ohm", [0.0, -1.0, np.inf, np.nan])
def test_a_resistance_that_is_none_is_refused(ohm: float) -> None:
    with pytest.raises(CircuitError, match="R9"):
        divider().add_resistor("top", "0", ohm=ohm, segment="R9")


def test_two_branches_of_one_name_are_refused() -> None:
    circuit = divider()
    circuit.add_resistor("top", "0", ohm=1.0, segment="R1")
    with pytest.raises(CircuitError, match="same segment name"):
        circuit.network()


def test_a_resistance_added_later_stands_last_and_may_bring_a_node_along() -> None:
    net = divider().network()
    middle, new = net.node_of["middle"], len(net.nodes)
    extra = [("tap", middle, new, 0.5), ("tap home", new, net.reference, 0.25)]
    more = with_extra(net, extra)
    assert more.segments == (*net.segments, "tap", "tap home")
    assert more.branch_of["tap home"] == 4
    assert more.nodes == (*net.nodes, "tap/3")
    assert more.role[-2:].tolist() == [Role.FIXED] * 2
    assert more.coil_of[-2:].tolist() == [-1, -1]
    # The network that it was put into knows nothing of it.
    assert len(net.g_s) == 3
    assert "tap" not in net.branch_of
    volts = solve_network(more).volts
    # Two and four ohm in a row: a third of the volts is lost on the first.
    assert float(volts[new]) == pytest.approx(float(volts[middle]) * 2 / 3)
