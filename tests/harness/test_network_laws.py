"""Laws that hold in any network, on random ones (check value C18, textbook, calc H).

The second oracle for the resistance between two points is Kirchhoff's theorem of 1847
(the weight of the spanning trees with the two points merged, over that of all spanning
trees), with networkx finding the trees: no linear equations are solved in it.
"""

from dataclasses import dataclass

import networkx as nx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harness.circuit import Circuit, Network
from harness.solver import Solution, solve_network

# A busy machine is no failure.
CALM = settings(deadline=None)
OHMS = st.floats(min_value=0.01, max_value=1e4)
VOLTS = st.floats(min_value=-24, max_value=24)


@dataclass(frozen=True)
class Mesh:
    """A connected network of resistances on numbered nodes; node 0 is the reference."""

    edges: tuple[tuple[int, int, float], ...]

    @property
    def nodes(self) -> int:
        return 1 + max(max(a, b) for a, b, _ in self.edges)

    def circuit(self, *, factor: float = 1.0) -> Circuit:
        circuit = Circuit(reference="0")
        for k, (a, b, ohm) in enumerate(self.edges):
            circuit.add_resistor(str(a), str(b), ohm=ohm * factor, segment=f"r{k}")
        return circuit


@st.composite
def meshes(draw: st.DrawFn, most_nodes: int = 8, most_extra: int = 8) -> Mesh:
    """Draw a tree over the nodes and some edges more; parallel ones are welcome."""
    nodes = draw(st.integers(2, most_nodes))
    edges = [(draw(st.integers(0, k - 1)), k, draw(OHMS)) for k in range(1, nodes)]
    for _ in range(draw(st.integers(0, most_extra))):
        a = draw(st.integers(0, nodes - 1))
        b = draw(st.integers(0, nodes - 2))
        edges.append((a, b + (b >= a), draw(OHMS)))
    return Mesh(tuple(edges))


Sources = list[tuple[int, float, float]]


@st.composite
def driven(draw: st.DrawFn) -> tuple[Mesh, Sources]:
    """Draw a mesh and one to three sources from its nodes to the reference."""
    mesh = draw(meshes())
    node = st.integers(1, mesh.nodes - 1)
    return mesh, draw(st.lists(st.tuples(node, VOLTS, OHMS), min_size=1, max_size=3))


def add_sources(circuit: Circuit, sources: Sources, *, factor: float = 1.0) -> None:
    for k, (node, volts, ohm) in enumerate(sources):
        name = f"s{k}"
        circuit.add_source(str(node), "0", volts=volts, ohm=ohm * factor, segment=name)


def solved(circuit: Circuit) -> tuple[Network, Solution]:
    net = circuit.network()
    return net, solve_network(net)


def volts_by_name(net: Network, solution: Solution) -> dict[str, float]:
    return {name: float(solution.volts[k]) for k, name in enumerate(net.nodes)}


@CALM
@given(driven(), st.booleans())
def test_what_flows_into_a_node_flows_out(
    drawn: tuple[Mesh, Sources], with_lamp: bool
) -> None:
    mesh, sources = drawn
    circuit = mesh.circuit()
    add_sources(circuit, sources)
    if with_lamp:
        circuit.add_lamp("0", str(mesh.nodes - 1), watts=21, at_volts=12)
    net, solution = solved(circuit)
    out_a = np.zeros(len(net.nodes))
    np.add.at(out_a, net.a, solution.amps)
    np.add.at(out_a, net.b, -solution.amps)
    largest_a = max(1e-6, float(np.abs(solution.amps).max()))
    assert float(np.abs(out_a).max()) <= 1e-8 * largest_a


@CALM
@given(driven(), st.booleans())
def test_what_sources_give_the_rest_takes(
    drawn: tuple[Mesh, Sources], with_lamp: bool
) -> None:
    mesh, sources = drawn
    circuit = mesh.circuit()
    add_sources(circuit, sources)
    if with_lamp:
        circuit.add_lamp("0", str(mesh.nodes - 1), watts=21, at_volts=12)
    net, solution = solved(circuit)
    power_w = solution.amps * (solution.volts[net.a] - solution.volts[net.b])
    assert abs(float(power_w.sum())) <= 1e-8 * max(1e-6, float(np.abs(power_w).max()))
    passive = [k for k, name in enumerate(net.segments) if not name.startswith("s")]
    assert float(power_w[passive].min()) >= -1e-12


@CALM
@given(driven())
def test_no_node_leaves_the_range_of_its_sources(drawn: tuple[Mesh, Sources]) -> None:
    mesh, sources = drawn
    circuit = mesh.circuit()
    add_sources(circuit, sources)
    circuit.add_lamp("0", str(mesh.nodes - 1), watts=5, at_volts=12)
    _, solution = solved(circuit)
    lowest = min(0.0, *(volts for _, volts, _ in sources))
    highest = max(0.0, *(volts for _, volts, _ in sources))
    assert float(solution.volts.min()) >= lowest - 1e-8
    assert float(solution.volts.max()) <= highest + 1e-8


@CALM
@given(driven(), st.floats(min_value=0.01, max_value=100))
def test_resistances_k_times_as_large_carry_a_kth_of_the_current(
    drawn: tuple[Mesh, Sources], k: float
) -> None:
    mesh, sources = drawn
    once, scaled = mesh.circuit(), mesh.circuit(factor=k)
    add_sources(once, sources)
    add_sources(scaled, sources, factor=k)
    _, before = solved(once)
    _, after = solved(scaled)
    scale_a = max(1e-9, float(np.abs(before.amps).max()))
    assert after.amps * k == pytest.approx(before.amps, rel=1e-6, abs=1e-8 * scale_a)
    assert after.volts == pytest.approx(before.volts, rel=1e-6, abs=1e-7)


@CALM
@given(driven())
def test_the_sources_together_do_what_they_do_one_by_one(
    drawn: tuple[Mesh, Sources],
) -> None:
    mesh, sources = drawn
    together = mesh.circuit()
    add_sources(together, sources)
    net, whole = solved(together)
    total = np.zeros(len(net.nodes))
    for k in range(len(sources)):
        alone = mesh.circuit()
        add_sources(
            alone,
            [(n, v if j == k else 0.0, ohm) for j, (n, v, ohm) in enumerate(sources)],
        )
        total += solved(alone)[1].volts
    assert total == pytest.approx(whole.volts, rel=1e-6, abs=1e-7)


@CALM
@given(meshes(), st.data())
def test_a_source_and_an_ammeter_may_change_places(
    mesh: Mesh, data: st.DataObject
) -> None:
    edge = st.integers(0, len(mesh.edges) - 1)
    one, two = data.draw(edge), data.draw(edge)

    def amps_in(measured: int, *, driven_edge: int) -> float:
        circuit = Circuit(reference="0")
        for k, (a, b, ohm) in enumerate(mesh.edges):
            volts = 12.0 if k == driven_edge else 0.0
            circuit.add_source(str(a), str(b), volts=volts, ohm=ohm, segment=f"r{k}")
        net, solution = solved(circuit)
        return float(solution.amps[net.branch_of[f"r{measured}"]])

    there = amps_in(two, driven_edge=one)
    back = amps_in(one, driven_edge=two)
    scale_a = 12.0 / min(mesh.edges[one][2], mesh.edges[two][2])
    assert there == pytest.approx(back, rel=1e-6, abs=1e-9 * scale_a)


def two_point_ohm(mesh: Mesh, a: int, b: int) -> float:
    """Return what the solver finds between two nodes: volts over amps of a source."""
    circuit = mesh.circuit()
    circuit.add_source(str(a), str(b), volts=1.0, ohm=1.0, segment="meter")
    net, solution = solved(circuit)
    volts = volts_by_name(net, solution)
    drop_v = volts[str(a)] - volts[str(b)]
    return drop_v / -float(solution.amps[net.branch_of["meter"]])


def tree_weight(mesh: Mesh, merged: dict[int, int]) -> float:
    """Return the sum over spanning trees of the product of their conductances."""
    graph = nx.Graph()
    graph.add_nodes_from(merged.get(n, n) for n in range(mesh.nodes))
    for a, b, ohm in mesh.edges:
        one, two = merged.get(a, a), merged.get(b, b)
        if one != two:
            before = graph.get_edge_data(one, two, default={"siemens": 0.0})
            graph.add_edge(one, two, siemens=before["siemens"] + 1 / ohm)
    if len(graph) == 1:
        return 1.0
    trees = nx.SpanningTreeIterator(graph, weight="siemens")
    products = [
        np.prod([s for _, _, s in tree.edges(data="siemens")]) for tree in trees
    ]
    return float(sum(products))


@settings(max_examples=40, deadline=None)
@given(meshes(most_nodes=6, most_extra=4), st.data())
def test_two_point_resistance_is_that_of_the_spanning_trees(
    mesh: Mesh, data: st.DataObject
) -> None:
    a = data.draw(st.integers(0, mesh.nodes - 1))
    b = data.draw(st.integers(0, mesh.nodes - 1).filter(lambda n: n != a))
    expected = tree_weight(mesh, {b: a}) / tree_weight(mesh, {})
    assert two_point_ohm(mesh, a, b) == pytest.approx(expected, rel=1e-6)


@CALM
@given(meshes(), st.data())
def test_a_wire_added_never_raises_the_resistance_between_two_points(
    mesh: Mesh, data: st.DataObject
) -> None:
    node = st.integers(0, mesh.nodes - 1)
    a = data.draw(node)
    b = data.draw(node.filter(lambda n: n != a))
    one = data.draw(node)
    two = data.draw(node.filter(lambda n: n != one))
    more = Mesh((*mesh.edges, (one, two, data.draw(OHMS))))
    before = two_point_ohm(mesh, a, b)
    assert two_point_ohm(more, a, b) <= before * (1 + 1e-7)
