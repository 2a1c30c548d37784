"""Switch tables to switches: positions, and the pins that each position joins."""

from harness.kinds import Switch
from harness.reading import Table
from harness.suggestions import listed, quoted

FEWEST = 2
EXAMPLE = 'joins = { ON = [["30", "15"]] }'

Groups = tuple[tuple[str, ...], ...]


def read_switch(table: Table, _volts: float) -> Switch | None:
    """Return the switch that a table describes, None where something is wrong."""
    momentary = table.flag("momentary")
    ohms = table.number("ohms", 0.01)
    positions = _positions(table)
    joins = _joins(table, positions)
    if ohms is None or positions is None or joins is None:
        return None
    return Switch(
        positions=tuple(positions),
        joins=tuple((p, joins[p]) for p in positions if joins.get(p)),
        momentary=momentary,
        ohms=ohms,
    )


def _positions(table: Table) -> list[str] | None:
    positions = table.texts("positions")
    if positions is None:
        if "positions" not in table.data:
            table.missing("positions", 'positions = ["OFF", "ON"], the rest one first')
        return None
    if len(positions) < FEWEST:
        what = "a switch has two positions or more"
        table.refuse(what, "name them, the rest one first", "positions")
        return None
    good = [table.check_id(p, "positions", i) for i, p in enumerate(positions)]
    alone = table.all_different(positions, "positions", of="position")
    return positions if alone and all(good) else None


def _joins(table: Table, positions: list[str] | None) -> dict[str, Groups] | None:
    value = table.data.get("joins")
    if not isinstance(value, dict):
        if value is None:
            table.missing("joins", EXAMPLE)
        else:
            what = "joins is not a table of positions"
            table.refuse(what, f"write {EXAMPLE}", "joins")
        return None
    if positions is not None:
        for position in value.keys() - set(positions):
            what = f"joins names a position {quoted(position)} that is not listed"
            mend = table.did_you_mean(position, positions, kind="positions")
            table.refuse(what, mend, "joins", position)
    read = {position: _groups(table, position, value[position]) for position in value}
    if not any(groups or groups is None for groups in read.values()):
        table.refuse("this switch joins nothing", f"write {EXAMPLE}", "joins")
        return None
    good = {position: groups for position, groups in read.items() if groups is not None}
    return good if len(good) == len(read) else None


def _groups(table: Table, position: str, value: object) -> Groups | None:
    inside = ("joins", position)
    if not isinstance(value, list):
        what = f"the joins of {quoted(position)} are not a list of groups"
        table.refuse(what, 'write [["30", "15"]]', *inside)
        return None
    read = [_group(table, item, *inside, index) for index, item in enumerate(value)]
    groups = tuple(group for group in read if group is not None)
    alone = _each_contact_once(table, groups, *inside)
    return groups if alone and len(groups) == len(read) else None


def _group(table: Table, value: object, *inside: str | int) -> tuple[str, ...] | None:
    pins = table.texts_in(value, *inside)
    if pins is None:
        return None
    if len(pins) < FEWEST:
        what = "a group joins two pins or more"
        table.refuse(what, "name the pins that this position joins", *inside)
        return None
    good = [table.check_pin(pin, *inside, index) for index, pin in enumerate(pins)]
    if len(set(pins)) < len(pins):
        what = f"a group names a pin twice: {listed(pins)}"
        table.refuse(what, "name each pin once", *inside)
        return None
    return tuple(pins) if all(good) else None


def _each_contact_once(table: Table, groups: Groups, *inside: str | int) -> bool:
    contacts: set[frozenset[str]] = set()
    names: set[str] = set()
    alone = True
    for first, *others in groups:
        for pin in others:
            contact, name = frozenset((first, pin)), f"{first}-{pin}"
            if contact in contacts or name in names:
                what = f"{first} and {pin} are joined twice"
                table.refuse(what, "join them once in a position", *inside)
                alone = False
            contacts.add(contact)
            names.add(name)
    return alone
