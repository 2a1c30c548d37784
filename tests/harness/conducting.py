"""What is joined to what in a rig, as networkx graphs: built from the contract alone.

The edges are those of the ngspice netlist (`spice.py`). A diode is an edge one way, in
the direction of conventional current; everything else goes both ways. Every element is
a node of its own between its two ends, so that two side by side stay two.
"""

from collections.abc import Collection, Iterable, Iterator

import networkx as nx

from harness.kinds import Box, Charger, Relay
from harness.model import Harness
from tests.harness.spice import Element, Rig, healthy_elements
from tests.harness.spice_run import point

# What takes current on purpose, or pushes it: never a way to something else.
USERS = ("device:", "battery:", "charger:")
# A box with more than this between two pins is a user as well.
A_WAY_OHM = 1.0


class Conducting:
    """A harness in a rig with some segments open.

    Attributes
    ----------
    elements : list of Element
        Those that are in the circuit; relays stand as the feed to their coils says.
    """

    def __init__(self, h: Harness, rig: Rig, opened: Collection[str] = ()) -> None:
        self.h = h
        self.rig = rig
        self.opened = set(opened)
        self.pos, self.neg = (
            point(h, f"{h.battery.id}.{pole}") for pole in ("pos", "neg")
        )
        pulled: set[str] = set()
        while True:
            self.elements = self._in_circuit(pulled)
            found = {
                d.id
                for d in h.devices.values()
                if isinstance(d.spec, Relay) and self._pulls(d.id)
            }
            if found <= pulled:
                break
            pulled |= found

    def _in_circuit(self, pulled: set[str]) -> list[Element]:
        sound = healthy_elements(self.h, self.rig, pulled)
        return [e for e in sound if e.segment not in self.opened]

    def _pulls(self, relay: str) -> bool:
        whole = f"relay:{relay}.coil" not in self.opened
        return whole and self.fed((f"{relay}.86", f"{relay}.85"))

    def ways(self) -> "nx.DiGraph[str]":
        """Return the graph of what lets current through without using it."""
        return self._graph(e for e in self.elements if self._is_way(e))

    def all_branches(self) -> "nx.DiGraph[str]":
        """Return the graph of all but the sources; relays in both states."""
        pulled = {d.id for d in self.h.devices.values() if isinstance(d.spec, Relay)}
        both = [*self._in_circuit(set()), *self._in_circuit(pulled)]
        return self._graph(e for e in both if not _is_source(e))

    def circuit(self) -> "nx.DiGraph[str]":
        """Return the graph of everything, sources as well."""
        return self._graph(self.elements)

    def _is_way(self, element: Element) -> bool:
        device = self.h.devices.get(element.a.partition(".")[0])
        if device and isinstance(device.spec, Box):
            return element.ohms <= A_WAY_OHM
        coil = element.segment.startswith("relay:") and element.segment.endswith("coil")
        return not element.segment.startswith(USERS) and not coil

    def _graph(self, elements: Iterable[Element]) -> "nx.DiGraph[str]":
        graph: nx.DiGraph[str] = nx.DiGraph()
        graph.add_nodes_from(point(self.h, t) for t in self.h.terminals)
        for e in elements:
            a, b, middle = point(self.h, e.a), point(self.h, e.b), f"<{e.segment}>"
            nx.add_path(graph, [a, middle, b])
            if not e.segment.startswith("diode:"):
                nx.add_path(graph, [b, middle, a])
        return graph

    def poles(self) -> Iterator[tuple[str, str]]:
        """Yield the two terminals of every source at work."""
        yield self.pos, self.neg
        if self.rig.get("engine") == "running":
            for d in self.h.devices.values():
                if isinstance(d.spec, Charger):
                    yield f"{d.id}.pos", f"{d.id}.neg"

    def fed(self, ends: tuple[str, str]) -> bool:
        """Return whether current can come to one end and leave from the other."""
        ways = self.ways()
        one, two = (point(self.h, end) for end in ends)
        return any(
            nx.has_path(ways, pos, a) and nx.has_path(ways, b, neg)
            for pos, neg in self.poles()
            for a, b in ((one, two), (two, one))
        )

    def bridges(self) -> set[str]:
        """Return the segments that alone hold two parts of the ways together."""
        both_ways = self.ways().to_undirected()
        return {
            end.strip("<>")
            for bridge in nx.bridges(both_ways)
            for end in bridge
            if end.startswith("<")
        }

    def in_a_circuit(self, segment: str) -> bool:
        """Return whether a segment lies on a closed way through a source."""
        whole = self.circuit().to_undirected()
        sources = {f"<{e.segment}>" for e in self.elements if _is_source(e)}
        return any(
            f"<{segment}>" in part and part & sources
            for part in nx.biconnected_components(whole)
            if len(part) > 2
        )

    def reached(self) -> set[str]:
        """Return the points that the feed poles reach through anything."""
        graph = self.all_branches()
        if self.h.earth == "positive":
            # There the current comes from the frame: towards the feed.
            graph = graph.reverse()
        found: set[str] = set()
        for pos, neg in self.poles():
            feed = pos if self.h.earth == "negative" else neg
            found |= {feed} | nx.descendants(graph, feed)
        return found


def _is_source(element: Element) -> bool:
    return element.segment.startswith(("battery:", "charger:"))
