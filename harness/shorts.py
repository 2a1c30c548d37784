"""Whether metal alone joins two terminals: wires, joints, bodies and mated plugs.

Nothing on such a way could ever limit the current, so a battery whose poles meet by
one is a drawing error, or a jumper lead in the wrong place.
"""

from collections import deque
from collections.abc import Collection, Iterable, Iterator, Mapping

from harness.kinds import Body, Joint, Plug, Spec
from harness.model import Wire

Ways = dict[str, list[tuple[str, str | None]]]


def metal_route(
    wires: Iterable[Wire],
    specs: Mapping[str, Spec | None],
    *,
    start: str,
    end: str,
    unplugged: Collection[str] = (),
    jumpers: Iterable[tuple[str, str]] = (),
) -> list[str] | None:
    """Return the wires of a shortest way through metal.

    Parameters
    ----------
    wires : iterable of Wire
    specs : mapping of str to (Spec or None)
        Kinds by device id; None is passed over.
    start, end : str
        Terminals.
    unplugged : collection of str
        Plugs that are apart, and terminals whose wires are pulled off.
    jumpers : iterable of (str, str)
        Pairs of terminals that are joined as well.

    Returns
    -------
    list of str or None
        Wire ids from start to end, ``jumper`` for a jumper; None if there is no way.
    """
    ways: Ways = {}
    for wire in wires:
        if wire.start not in unplugged and wire.end not in unplugged:
            _join(ways, wire.start, wire.end, wire.id)
    for one, other in jumpers:
        _join(ways, one, other, "jumper")
    _join_inside(ways, specs, unplugged)
    return _shortest(ways, start, end)


def _join_inside(
    ways: Ways, specs: Mapping[str, Spec | None], unplugged: Collection[str]
) -> None:
    """Join the pins of bodies and joints, and the faces of mated cavities."""
    for terminal in list(ways):
        device = terminal.partition(".")[0]
        if isinstance(specs.get(device), Body | Joint):
            _join(ways, terminal, device, None)
    for device, spec in specs.items():
        if isinstance(spec, Plug) and device not in unplugged:
            for cavity in spec.cavities:
                _join(ways, f"{device}.{cavity}a", f"{device}.{cavity}b", None)


def _join(ways: Ways, one: str, other: str, wire: str | None) -> None:
    ways.setdefault(one, []).append((other, wire))
    ways.setdefault(other, []).append((one, wire))


def _shortest(ways: Ways, start: str, end: str) -> list[str] | None:
    came: dict[str, tuple[str, str | None]] = {}
    queue = deque([start])
    while queue and end not in came:
        here = queue.popleft()
        for there, wire in ways.get(here, ()):
            if there != start and there not in came:
                came[there] = (here, wire)
                queue.append(there)
    return list(_back(came, end))[::-1] if end in came else None


def _back(came: dict[str, tuple[str, str | None]], end: str) -> Iterator[str]:
    here = end
    while here in came:
        here, wire = came[here]
        if wire is not None:
            yield wire
