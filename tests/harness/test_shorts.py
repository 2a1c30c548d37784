"""Ways through metal alone."""

from collections.abc import Sequence

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness.kinds import Body, Fuse, Joint, Plug, Spec
from harness.model import Wire
from harness.shorts import metal_route

SPECS: dict[str, Spec | None] = {
    "battery": None,
    "j": Joint(),
    "frame": Body(),
    "plug": Plug(("1", "2")),
    "fuse": Fuse(10, 0.01),
}


def wires(*ends: tuple[str, str]) -> list[Wire]:
    return [Wire(str(n), one, other) for n, (one, other) in enumerate(ends)]


def across(
    found: list[Wire],
    *,
    unplugged: Sequence[str] = (),
    jumpers: Sequence[tuple[str, str]] = (),
) -> list[str] | None:
    """Return the way from pole to pole of the battery."""
    return metal_route(
        found,
        SPECS,
        start="battery.pos",
        end="battery.neg",
        unplugged=unplugged,
        jumpers=jumpers,
    )


def test_joints_bodies_and_plugs_are_metal_and_a_fuse_is_not() -> None:
    found = wires(
        ("battery.pos", "j.1"),
        ("j.2", "plug.1a"),
        ("plug.1b", "frame.x"),
        ("frame.y", "battery.neg"),
    )
    assert across(found) == ["0", "1", "2", "3"]
    fused = wires(("battery.pos", "fuse.1"), ("fuse.2", "battery.neg"))
    assert across(fused) is None


def test_cavities_do_not_touch_each_other() -> None:
    found = wires(("battery.pos", "plug.1a"), ("plug.2b", "battery.neg"))
    assert across(found) is None


def test_what_is_apart_does_not_join_and_a_jumper_does() -> None:
    found = wires(("battery.pos", "plug.1a"), ("plug.1b", "battery.neg"))
    assert across(found) == ["0", "1"]
    for off in ("plug", "plug.1a", "battery.neg"):
        assert across(found, unplugged=[off]) is None
    bridge = [("battery.pos", "battery.neg")]
    assert across(found, unplugged=["plug"], jumpers=bridge) == ["jumper"]


TERMINALS = ["battery.pos", "battery.neg", "j.1", "j.2", "frame.x", "plug.1a"]
TERMINALS += ["plug.1b", "plug.2a", "plug.2b", "fuse.1", "fuse.2"]


METAL = [("plug.1a", "plug.1b"), ("plug.2a", "plug.2b"), ("j.1", "j.2")]


@given(st.lists(st.tuples(st.sampled_from(TERMINALS), st.sampled_from(TERMINALS))))
def test_a_way_is_found_where_there_is_one_and_it_leads_there(
    ends: list[tuple[str, str]],
) -> None:
    # oracle: networkx on the same graph
    route = across(wires(*ends))
    graph = nx.Graph()
    graph.add_nodes_from(TERMINALS)
    graph.add_edges_from(METAL + ends)
    assert (route is not None) == nx.has_path(graph, "battery.pos", "battery.neg")
    if route is not None:
        alone = nx.Graph(METAL + [ends[int(wire)] for wire in route])
        assert nx.has_path(alone, "battery.pos", "battery.neg")
        assert len(set(route)) == len(route)


def test_a_bare_wire_across_the_poles() -> None:
    found = wires(("battery.neg", "battery.pos"))
    assert across(found) == ["0"]


@pytest.mark.parametrize("ends", [(), (("battery.pos", "battery.pos"),)])
def test_no_way_where_nothing_leads_on(ends: tuple[tuple[str, str], ...]) -> None:
    found = wires(*ends)
    assert across(found) is None
