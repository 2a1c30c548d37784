"""Many circuits given to one ngspice process, and the operating point of each."""

import subprocess
import tempfile
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from harness.kinds import Body
from harness.model import Harness
from tests.harness.spice import Element

# Ties every node that hangs in the air to zero; 12 V drive 1.2 nA through it.
SHUNT_OHM = 1e10
OPTIONS = (
    f".options rshunt={SHUNT_OHM:g} reltol=1e-9 vntol=1e-10 abstol=1e-12 itl1=1000"
)
# Stands between the answers of one circuit and those of the next.
NEXT = "next circuit"
PATIENCE_S = 600


@dataclass(frozen=True)
class Circuit:
    """The elements of one harness in one state."""

    h: Harness
    elements: Sequence[Element]


@dataclass(frozen=True)
class Answer:
    """Volts by terminal, and which terminals hang together."""

    volts: dict[str, float]
    island: dict[str, str]


@dataclass(frozen=True)
class Netlist:
    """A circuit in ngspice's words.

    `nodes` gives each terminal's node, `loose` the nodes in no line.
    """

    lines: list[str]
    nodes: dict[str, str]
    wired: list[tuple[str, str]]
    loose: set[str]


def netlist_of(circuit: Circuit) -> Netlist:
    """Name the nodes and write the lines; the battery's earthed pole is node 0."""
    h = circuit.h
    nodes = {point(h, h.earthed_pin): "0"}
    ends = [(point(h, e.a), point(h, e.b)) for e in circuit.elements]
    for pair in ends:
        for name in pair:
            nodes.setdefault(name, f"n{len(nodes)}")
    for terminal in h.terminals:
        nodes.setdefault(point(h, terminal), f"n{len(nodes)}")
    wired = [(nodes[a], nodes[b]) for a, b in ends]
    lines = [
        _line(k, e, *pair)
        for k, (e, pair) in enumerate(zip(circuit.elements, wired, strict=True))
        if pair[0] != pair[1]
    ]
    loose = set(nodes.values()) - {n for a, b in wired if a != b for n in (a, b)}
    return Netlist(lines, nodes, wired, loose - {"0"})


def point(h: Harness, terminal: str) -> str:
    """Return the name that all pins of one metal share."""
    device = h.devices.get(terminal.partition(".")[0])
    return device.id if device and isinstance(device.spec, Body) else terminal


def _line(k: int, element: Element, a: str, b: str) -> str:
    if element.amps:
        return f"B{k} {a} {b} I = {element.amps.format(v=f'v({a},{b})')}"
    return f"R{k} {a} {b} {element.ohms!r}"


def answers(circuits: Sequence[Circuit]) -> list[Answer]:
    """Have one ngspice process find the volts of every terminal of every circuit.

    Raises
    ------
    AssertionError
        When ngspice gives no volts for a node: its own words are in the message.
    """
    netlists = [netlist_of(circuit) for circuit in circuits]
    found = run_ngspice(netlists)
    return [
        _answer(circuit, netlist, by_node)
        for circuit, netlist, by_node in zip(circuits, netlists, found, strict=True)
    ]


def _answer(circuit: Circuit, netlist: Netlist, by_node: dict[str, float]) -> Answer:
    h, nodes = circuit.h, netlist.nodes
    joined = [
        (a, b)
        for e, (a, b) in zip(circuit.elements, netlist.wired, strict=True)
        if by_node[a] - by_node[b] > e.opens_v
    ]
    roots = _roots(nodes.values(), joined)
    return Answer(
        volts={t: by_node[nodes[point(h, t)]] for t in h.terminals},
        island={t: roots[nodes[point(h, t)]] for t in h.terminals},
    )


def _roots(nodes: Iterable[str], joined: list[tuple[str, str]]) -> dict[str, str]:
    """Name each node's island after one of its nodes; that of the earthed pole is 0."""
    parent = {node: node for node in nodes}

    def root(node: str) -> str:
        while parent[node] != node:
            node = parent[node]
        return node

    for a, b in joined:
        one, other = sorted((root(a), root(b)))
        parent[other] = one
    return {node: root(node) for node in parent}


def run_ngspice(netlists: Sequence[Netlist]) -> list[dict[str, float]]:
    """Return each circuit's volts by node."""
    with tempfile.TemporaryDirectory() as folder:
        orders = ["many looms", ".control", "set numdgt=12"]
        for k, netlist in enumerate(netlists):
            deck = ["a loom", OPTIONS, *netlist.lines, ".end"]
            name = f"loom{k}.cir"
            (Path(folder) / name).write_text("\n".join(deck) + "\n", encoding="utf-8")
            orders += [f"source {name}", "op", "print all", f"echo {NEXT}"]
            # Old answers and circuits that are kept slow it down.
            orders += ["destroy all", "remcirc"]
        orders += ["quit", ".endc", ".end"]
        path = Path(folder) / "orders.cir"
        path.write_text("\n".join(orders) + "\n", encoding="utf-8")
        done = subprocess.run(
            ["ngspice", "-b", path.name],
            cwd=folder,
            capture_output=True,
            text=True,
            timeout=PATIENCE_S,
            check=False,
        )
    printed = done.stdout.split(NEXT)
    assert len(printed) == len(netlists) + 1, done.stderr[-2000:]
    return [
        volts_by_node(netlist, text, done.stderr)
        for netlist, text in zip(netlists, printed, strict=False)
    ]


def volts_by_node(netlist: Netlist, text: str, complaints: str) -> dict[str, float]:
    """Read what ngspice printed; its complaints are for the message if some lack."""
    volts = {"0": 0.0} | dict.fromkeys(netlist.loose, 0.0)
    wanted = set(netlist.nodes.values())
    for row in text.splitlines():
        name, _, value = row.partition(" = ")
        if name in wanted:
            volts[name] = float(value)
    lacking = wanted - set(volts)
    assert not lacking, f"ngspice gave no answer: {complaints[-2000:]}"
    return volts
