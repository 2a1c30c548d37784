"""Which wires lie beside one another, so that one can chafe through to the next.

Two wires are neighbours when they enter adjacent cavities of one plug on the same face,
or when they run between the same two places and follow one another in the order of
their ids. Wires that share a terminal are left out: joining them once more changes next
to nothing.
"""

from collections import defaultdict
from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise

from harness.kinds import Plug
from harness.model import Harness, Wire

_INSULATED = {"wire", "cable"}


@lru_cache(maxsize=32)
def neighbours_of(h: Harness) -> dict[str, tuple[str, ...]]:
    """Return the neighbours of each wire and of each plug cavity, as segments, sorted.

    A cavity's neighbours are those before and after it in its plug.
    """
    found: dict[str, set[str]] = defaultdict(set)
    for one, other in (*_wires_beside(h), *_cavities_beside(h)):
        found[one].add(other)
        found[other].add(one)
    return {name: tuple(sorted(others)) for name, others in found.items()}


def _wires_beside(h: Harness) -> Iterator[tuple[str, str]]:
    for one, other in (*_at_plugs(h), *_along_the_loom(h)):
        if one.id != other.id and not {one.start, one.end} & {other.start, other.end}:
            yield f"wire:{one.id}", f"wire:{other.id}"


def _at_plugs(h: Harness) -> Iterator[tuple[Wire, Wire]]:
    at: dict[str, list[Wire]] = defaultdict(list)
    for wire in _insulated(h):
        at[wire.start].append(wire)
        at[wire.end].append(wire)
    for device in h.devices.values():
        if isinstance(device.spec, Plug):
            for this, following in pairwise(device.spec.cavities):
                for face in "ab":
                    for one in at[f"{device.id}.{this}{face}"]:
                        for other in at[f"{device.id}.{following}{face}"]:
                            yield one, other


def _along_the_loom(h: Harness) -> Iterator[tuple[Wire, Wire]]:
    runs: dict[tuple[str, ...], list[Wire]] = defaultdict(list)
    for wire in _insulated(h):
        ends = (t.partition(".")[0] for t in (wire.start, wire.end))
        places = [h.devices[device].place for device in ends]
        if all(places):
            runs[tuple(sorted(str(place) for place in places))].append(wire)
    for wires in runs.values():
        yield from pairwise(wires)


def _insulated(h: Harness) -> Iterator[Wire]:
    return (wire for wire in h.wires.values() if wire.kind in _INSULATED)


def _cavities_beside(h: Harness) -> Iterator[tuple[str, str]]:
    for device in h.devices.values():
        if isinstance(device.spec, Plug):
            for this, following in pairwise(device.spec.cavities):
                yield f"plug:{device.id}.{this}", f"plug:{device.id}.{following}"
