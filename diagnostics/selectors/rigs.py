"""What can be set, unplugged and probed on a loom: the choices of free entry."""

from dataclasses import dataclass
from typing import Any

from diagnostics.engine import loom_of
from diagnostics.models import Case, Finding
from diagnostics.segment_lists import natural
from diagnostics.words import capital, device_words, spot_words, wire_view
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer, demand

_NOT_TAKEN_OUT = ("body", "joint", "plug")
_WATCHED = ("lamp", "load", "motor")


@dataclass(frozen=True, kw_only=True)
class SwitchChoice:
    """A switch and its positions, the rest one first."""

    device: str
    title: str
    positions: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Named:
    """A thing by its id and by the words for it."""

    name: str
    words: str


@dataclass(frozen=True, kw_only=True)
class WireChoice:
    """A wire that a clamp can go round: its number, its letters, both its ends."""

    name: str
    letters: str
    words: str


@dataclass(frozen=True, kw_only=True)
class RigChoices:
    """Everything that a finding on this loom can name."""

    switches: tuple[SwitchChoice, ...]
    has_charger: bool
    plugs: tuple[Named, ...]
    removable: tuple[Named, ...]
    terminals: tuple[Named, ...]
    watchable: tuple[Named, ...]
    wires: tuple[WireChoice, ...]
    first_body: str
    last_rig: dict[str, Any]


def rig_choices(*, case_id: int, viewer: Viewer) -> RigChoices:
    """Return the choices of a case's drawing, and the rig last used.

    Raises
    ------
    NotFound
        There is no such case.
    """
    demand(viewer.role, Act.SEE_SHOP)
    case = Case.objects.with_surroundings().filter(pk=case_id).first()
    if case is None:
        raise NotFound("case-not-found", "There is no such case.", "case_id")
    h = loom_of(case.harness_file.sha256)
    devices = list(h.devices.values())
    last = Finding.objects.of_case(case_id).last()
    return RigChoices(
        switches=tuple(
            SwitchChoice(
                device=device.id,
                title=capital(device.title),
                positions=positions,
            )
            for device in devices
            if (positions := getattr(device.spec, "positions", ()))
        ),
        has_charger=any(device.kind == "charger" for device in devices),
        plugs=_named(h, [d.id for d in devices if d.kind == "plug"]),
        removable=_named(h, [d.id for d in devices if d.kind not in _NOT_TAKEN_OUT]),
        terminals=tuple(
            Named(name=terminal, words=capital(spot_words(h, terminal)))
            for terminal in h.terminals
        ),
        watchable=_named(h, [name for d in devices for name in _watchable(d)]),
        wires=tuple(
            _wire(h, h.wires[number])
            for number in sorted(h.wires, key=natural)
            if h.wires[number].kind != "mount"
        ),
        first_body=h.first_body or "",
        last_rig=last.rig if last else {},
    )


def _named(h: Any, names: list[str]) -> tuple[Named, ...]:
    return tuple(
        Named(name=name, words=capital(device_words(h, name))) for name in names
    )


def _wire(h: Any, wire: Any) -> WireChoice:
    view = wire_view(h, wire.id)
    ends = f"{spot_words(h, wire.start)} to {spot_words(h, wire.end)}"
    said = f"{view.letters} {view.words}" if view.letters else view.words
    return WireChoice(name=wire.id, letters=view.letters, words=f"{said}: {ends}")


def _watchable(device: Any) -> list[str]:
    if device.kind == "fuse":
        return [device.id]
    if device.kind not in _WATCHED:
        return []
    filaments = getattr(device.spec, "filaments", ())
    names = [filament.name for filament in filaments if filament.name]
    return [f"{device.id}.{name}" for name in names] or [device.id]
