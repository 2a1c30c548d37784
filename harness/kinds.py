"""Device kinds: the parameters of each and the pins that it has.

Every number is in SI units (volt, ampere, ohm, watt). The defaults are those of the
harness contract; crimp, contact and joint resistances are common practice, no source.
"""

from dataclasses import dataclass

CRIMP_OHM = 0.002
MOUNT_OHM = 0.003


@dataclass(frozen=True, slots=True)
class Battery:
    """A source of `emf_v` behind `ohms`; pins ``pos`` and ``neg``."""

    emf_v: float
    ohms: float = 0.02
    capacity_ah: float | None = None


@dataclass(frozen=True, slots=True)
class Charger:
    """A source behind a resistance and a diode, while the engine runs."""

    volts: float
    ohms: float = 0.15


@dataclass(frozen=True, slots=True)
class Fuse:
    """Opens for good when its steady current passes 1.35 x `amps`."""

    amps: float
    ohms: float


@dataclass(frozen=True, slots=True)
class Switch:
    """Joins groups of pins in each position; the first position is the rest one.

    `joins` pairs a position with its groups, sorted as `positions` is; in a group the
    first pin meets each other pin through a contact of its own.
    """

    positions: tuple[str, ...]
    joins: tuple[tuple[str, tuple[tuple[str, ...], ...]], ...]
    momentary: bool = False
    ohms: float = 0.01

    def groups(self, position: str) -> tuple[tuple[str, ...], ...]:
        """Return the groups of pins joined in a position (none where unnamed)."""
        return dict(self.joins).get(position, ())


@dataclass(frozen=True, slots=True)
class Filament:
    """One filament; its current goes as voltage to the power 0.55.

    `name` is None for a plain lamp of one filament between pins 1 and 2.
    """

    name: str | None
    pins: tuple[str, str]
    watts: float
    at_volts: float


@dataclass(frozen=True, slots=True)
class Lamp:
    """One or more filaments."""

    filaments: tuple[Filament, ...]


@dataclass(frozen=True, slots=True)
class Load:
    """A resistance between pins 1 and 2: horn, coil primary, heater, sender."""

    ohms: float


@dataclass(frozen=True, slots=True)
class Motor:
    """A resistance at stall between pins 1 and 2."""

    ohms: float


@dataclass(frozen=True, slots=True)
class Relay:
    """Coil 85-86; contact 30-87 makes, 30-87a breaks at `pull_in_v` over the coil."""

    coil_ohms: float
    pull_in_v: float
    ohms: float = 0.01
    has_break_contact: bool = False


@dataclass(frozen=True, slots=True)
class Diode:
    """Conducts from pin a to pin k only: `drop_v` in series with `ohms`."""

    drop_v: float = 0.7
    ohms: float = 0.05


@dataclass(frozen=True, slots=True)
class Plug:
    """A mated connector; cavity N joins pin Na to pin Nb."""

    cavities: tuple[str, ...]
    ohms: float = 0.005


@dataclass(frozen=True, slots=True)
class Joint:
    """A splice or multi-way connector: every pin joined to one point."""

    ohms: float = 0.002


@dataclass(frozen=True, slots=True)
class Body:
    """Metal: frame, engine, handlebar, lamp shell; all pins are one point."""


@dataclass(frozen=True, slots=True)
class Link:
    """A resistance between two pins of a box."""

    between: tuple[str, str]
    ohms: float


@dataclass(frozen=True, slots=True)
class Box:
    """Anything else, as resistances between its pins."""

    links: tuple[Link, ...]


Spec = (
    Battery
    | Charger
    | Fuse
    | Switch
    | Lamp
    | Load
    | Motor
    | Relay
    | Diode
    | Plug
    | Joint
    | Body
    | Box
)

KIND_OF: dict[type, str] = {
    Battery: "battery",
    Charger: "charger",
    Fuse: "fuse",
    Switch: "switch",
    Lamp: "lamp",
    Load: "load",
    Motor: "motor",
    Relay: "relay",
    Diode: "diode",
    Plug: "plug",
    Joint: "joint",
    Body: "body",
    Box: "box",
}


def fixed_pins(spec: Spec) -> tuple[str, ...] | None:
    """Return the pins that a device has by its kind, in order.

    Returns
    -------
    tuple of str or None
        None for a joint or a body, which have whatever pins the wires name.
    """
    plain = _PLAIN_PINS.get(type(spec))
    if plain is not None:
        return plain
    match spec:
        case Relay():
            pins = [
                "85",
                "86",
                "30",
                "87",
                *(["87a"] if spec.has_break_contact else []),
            ]
        case Switch():
            pins = [p for _, groups in spec.joins for group in groups for p in group]
        case Lamp():
            pins = [p for filament in spec.filaments for p in filament.pins]
        case Plug():
            pins = [f"{cavity}{face}" for cavity in spec.cavities for face in "ab"]
        case Box():
            pins = [p for link in spec.links for p in link.between]
        case _:
            return None
    return tuple(dict.fromkeys(pins))


_PLAIN_PINS: dict[type, tuple[str, ...]] = {
    Battery: ("pos", "neg"),
    Charger: ("pos", "neg"),
    Fuse: ("1", "2"),
    Load: ("1", "2"),
    Motor: ("1", "2"),
    Diode: ("a", "k"),
}
