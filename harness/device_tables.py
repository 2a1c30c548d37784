"""Device tables to device kinds: one reader a kind, and the keys that each allows."""

from collections.abc import Callable

from harness.kinds import (
    Battery,
    Body,
    Box,
    Charger,
    Diode,
    Filament,
    Fuse,
    Joint,
    Lamp,
    Link,
    Load,
    Motor,
    Plug,
    Relay,
    Spec,
)
from harness.reading import Table
from harness.suggestions import listed, quoted
from harness.switch_tables import read_switch

COMMON_KEYS = ("kind", "name", "place", "note")
PAIR = 2

Reader = Callable[[Table, float], Spec | None]


def _battery(table: Table, volts: float) -> Spec | None:
    emf = table.number("emf", round(1.05 * volts, 6))
    ohms = table.number("ohms", 0.02)
    capacity = table.number("capacity_ah")
    if emf is None or ohms is None:
        return None
    return Battery(emf_v=emf, ohms=ohms, capacity_ah=capacity)


def _charger(table: Table, volts: float) -> Spec | None:
    charging = table.number("volts", round(14.2 * volts / 12, 6))
    ohms = table.number("ohms", 0.15)
    if charging is None or ohms is None:
        return None
    return Charger(volts=charging, ohms=ohms)


def _fuse(table: Table, _volts: float) -> Spec | None:
    amps = table.required("amps")
    if amps is None:
        table.number("ohms")
        return None
    ohms = table.number("ohms", 0.1 / amps)
    return None if ohms is None else Fuse(amps=amps, ohms=ohms)


def _lamp(table: Table, volts: float) -> Spec | None:
    if "filaments" in table.data:
        return _filaments(table, volts)
    watts = table.required("watts")
    at_volts = table.number("at_volts", volts)
    if watts is None or at_volts is None:
        return None
    return Lamp((Filament(None, ("1", "2"), watts, at_volts),))


def _filaments(table: Table, volts: float) -> Spec | None:
    if "watts" in table.data:
        what = "watts stands beside filaments"
        table.refuse(what, "give each filament its own watts", "watts")
    # Rated volts beside the filaments hold for each that names none of its own.
    volts = table.number("at_volts", volts) or volts
    filaments = table.tables("filaments")
    if filaments is None:
        return None
    if not filaments:
        table.refuse("filaments is empty", "list them, or give watts", "filaments")
        return None
    read = [_filament(filament, volts) for filament in filaments]
    good = tuple(filament for filament in read if filament is not None)
    names = [filament.name or "" for filament in good]
    if not table.all_different(names, "filaments", of="filament"):
        return None
    return Lamp(good) if len(good) == len(read) else None


def _filament(table: Table, volts: float) -> Filament | None:
    table.only(("name", "pins", "watts", "at_volts"), of="a filament")
    name = table.identifier("name")
    if "name" not in table.data:
        table.missing("name", 'name = "tail"')
    pins = _two_pins(table, "pins")
    watts = table.required("watts")
    at_volts = table.number("at_volts", volts)
    if name is None or pins is None or watts is None or at_volts is None:
        return None
    return Filament(name, pins, watts, at_volts)


def _two_pins(table: Table, key: str) -> tuple[str, str] | None:
    pins = table.texts(key)
    if pins is None:
        if key not in table.data:
            table.missing(key, f'{key} = ["...", "..."]')
        return None
    if len(pins) != PAIR or pins[0] == pins[1]:
        what = f"{key} names {listed(pins) or 'nothing'}"
        table.refuse(what, "name two different pins", key)
        return None
    good = [table.check_pin(pin, key, index) for index, pin in enumerate(pins)]
    return (pins[0], pins[1]) if all(good) else None


def _load(table: Table, volts: float) -> Spec | None:
    ohms = table.number("ohms")
    watts = table.number("watts")
    at_volts = table.number("at_volts", volts)
    if "ohms" in table.data:
        for key in ("watts", "at_volts"):
            if key in table.data:
                what = f"{key} stands beside ohms"
                table.refuse(what, "give ohms, or watts with at_volts", key)
        return None if ohms is None else Load(ohms)
    if "watts" not in table.data and "watts" not in table.misspelt:
        table.missing("ohms", "ohms = ... or watts = ...")
    if watts is None or at_volts is None:
        return None
    return Load(at_volts**2 / watts)


def _motor(table: Table, _volts: float) -> Spec | None:
    ohms = table.required("ohms")
    return None if ohms is None else Motor(ohms)


def _relay(table: Table, volts: float) -> Spec | None:
    coil = table.required("coil_ohms")
    pull_in = table.number("pull_in_volts", round(0.6 * volts, 6))
    ohms = table.number("ohms", 0.01)
    if coil is None or pull_in is None or ohms is None:
        return None
    return Relay(coil_ohms=coil, pull_in_v=pull_in, ohms=ohms)


def _diode(table: Table, _volts: float) -> Spec | None:
    drop = table.number("drop_volts", 0.7)
    ohms = table.number("ohms", 0.05)
    return None if drop is None or ohms is None else Diode(drop_v=drop, ohms=ohms)


def _plug(table: Table, _volts: float) -> Spec | None:
    ohms = table.number("ohms", 0.005)
    cavities = table.texts("cavities")
    if cavities is None:
        if "cavities" not in table.data:
            table.missing("cavities", 'cavities = ["1", "2"]')
        return None
    if not cavities:
        table.refuse("this plug has no cavities", "name one or more", "cavities")
        return None
    good = [table.check_pin(c, "cavities", i) for i, c in enumerate(cavities)]
    alone = table.all_different(cavities, "cavities", of="cavity")
    if ohms is None or not alone or not all(good):
        return None
    return Plug(tuple(cavities), ohms)


def _joint(table: Table, _volts: float) -> Spec | None:
    ohms = table.number("ohms", 0.002)
    return None if ohms is None else Joint(ohms)


def _body(_table: Table, _volts: float) -> Spec | None:
    return Body()


def _box(table: Table, _volts: float) -> Spec | None:
    links = table.tables("links")
    if links is None:
        if "links" not in table.data:
            mend = 'links = [{ between = ["a", "b"], ohms = 12 }]'
            table.missing("links", mend)
        return None
    if not links:
        table.refuse("this box has no links", "list one or more", "links")
    read = [_link(link) for link in links]
    return Box(tuple(link for link in read if link)) if read and all(read) else None


def _link(table: Table) -> Link | None:
    table.only(("between", "ohms"), of="a link")
    between = _two_pins(table, "between")
    ohms = table.required("ohms")
    return None if between is None or ohms is None else Link(between, ohms)


KINDS: dict[str, tuple[tuple[str, ...], Reader]] = {
    "battery": (("emf", "ohms", "capacity_ah"), _battery),
    "charger": (("volts", "ohms"), _charger),
    "fuse": (("amps", "ohms"), _fuse),
    "switch": (("positions", "joins", "momentary", "ohms"), read_switch),
    "lamp": (("watts", "at_volts", "filaments"), _lamp),
    "load": (("ohms", "watts", "at_volts"), _load),
    "motor": (("ohms",), _motor),
    "relay": (("coil_ohms", "pull_in_volts", "ohms"), _relay),
    "diode": (("drop_volts", "ohms"), _diode),
    "plug": (("cavities", "ohms"), _plug),
    "joint": (("ohms",), _joint),
    "body": ((), _body),
    "box": (("links",), _box),
}


def read_spec(table: Table, *, volts: float) -> Spec | None:
    """Return the kind that a device table describes.

    Parameters
    ----------
    table : Table
        The device's table.
    volts : float
        Nominal system voltage, which several defaults follow.

    Returns
    -------
    Spec or None
        None where something is wrong; the problems are then noted.
    """
    kind = table.text("kind")
    if kind is None:
        if "kind" not in table.data:
            table.missing("kind", f"kind = ... ({', '.join(KINDS)})")
        return None
    if kind not in KINDS:
        mend = table.did_you_mean(kind, KINDS, kind="kinds")
        table.refuse(f"there is no kind of device {quoted(kind)}", mend, "kind")
        return None
    keys, reader = KINDS[kind]
    table.only((*COMMON_KEYS, *keys), of=f"a {kind}")
    return reader(table, volts)
