"""Drafts of a harness: the tables of one file laid over those that it extends.

A variant names its base by a path beside it. Nothing outside the variant's own folder
is ever read. The base's tables come first; the variant then takes away what it says,
replaces what has the same id, and adds the rest.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path, PurePosixPath

from harness.errors import HarnessError, Problem
from harness.reading import Source, Spot, Table
from harness.suggestions import quoted
from harness.texts import read_source
from harness.wire_tables import WIRE_KEYS

DEEPEST = 8
SCHEMA = 1
MOST_WIRES = 5000
MOST_DEVICES = 5000
HEAD_KEYS = ("title", "volts", "earth")
TOP_KEYS = (
    *("schema", "title", "volts", "earth", "note", "extends"),
    *("remove_wires", "remove_devices", "places", "devices", "wires"),
)


@dataclass
class Draft:
    """Tables by id, each of which knows the file and line that it came from.

    Attributes
    ----------
    top : Table
        The whole of the file that was asked for.
    head : dict of str to Table
        For each of title, volts and earth, the file whose word counts.
    places, devices, wires : dict of str to Table
        By id. A wire whose id is wrong is kept as ``wires[3]``, counted from 1, so
        that whatever else is wrong with it is told as well.
    removed : set of str
        Devices that a variant took away and did not put back.
    whole : bool
        False where a base could not be read: then nothing can be told of what is
        missing, since it may stand in the base.
    """

    top: Table
    head: dict[str, Table] = field(default_factory=dict)
    places: dict[str, Table] = field(default_factory=dict)
    devices: dict[str, Table] = field(default_factory=dict)
    wires: dict[str, Table] = field(default_factory=dict)
    removed: set[str] = field(default_factory=set)
    whole: bool = True


def draft_of(
    source: Source,
    *,
    name: str,
    folder: Path | None,
    path: Path | None,
    problems: list[Problem],
) -> Draft:
    """Return the tables of a file and of all that it extends.

    Parameters
    ----------
    source : Source
        The file that was asked for.
    name : str
        What messages call it; its bases are named beside it.
    folder : Path or None
        Where its base may be; None where there is no folder to look in.
    path : Path or None
        The file itself, so that a base cannot lead back to it.
    problems : list of Problem
        Where what is wrong is noted.
    """
    trail = [Path() if path is None else path.resolve()]
    return _Layers(problems, name).draft(source, folder, trail)


class _Layers:
    """One walk down a chain of bases."""

    def __init__(self, problems: list[Problem], name: str) -> None:
        self.problems = problems
        self.name = name

    def draft(self, source: Source, folder: Path | None, trail: list[Path]) -> Draft:
        top = Table(source.data, Spot(source), "", self.problems)
        top.only(TOP_KEYS, of="a harness")
        _check_schema(top)
        top.text("note")
        draft = self._base(top, folder, trail)
        draft.top = top
        self._take_away(top, draft)
        for key in HEAD_KEYS:
            if key in top.data:
                draft.head[key] = top
        draft.places.update(top.subtables("places"))
        devices = top.subtables("devices")
        draft.devices.update(devices)
        draft.removed -= devices.keys()
        self._lay_wires(top, draft)
        for key, ids, most in (
            ("wires", draft.wires, MOST_WIRES),
            ("devices", draft.devices, MOST_DEVICES),
        ):
            if len(ids) > most:
                what = f"there are {len(ids)} {key}"
                top.refuse(what, f"{most} is the most in one harness", key)
        return draft

    def _base(self, top: Table, folder: Path | None, trail: list[Path]) -> Draft:
        name = top.text("extends")
        if name is None:
            for key in ("remove_wires", "remove_devices"):
                if key in top.data:
                    what = f"{key} without a base to take from"
                    top.refuse(what, 'add extends = "base.toml", or drop it', key)
            return Draft(top, whole="extends" not in top.data)
        path = self._base_path(top, name, folder, trail)
        if path is None:
            return Draft(top, whole=False)
        shown = str(Path(top.spot.source.file or self.name).parent / name)
        try:
            base = read_source(path, file=shown)
        except HarnessError as error:
            self.problems.extend(error.problems)
            return Draft(top, whole=False)
        return self.draft(base, path.parent, [*trail, path])

    def _base_path(
        self, top: Table, name: str, folder: Path | None, trail: list[Path]
    ) -> Path | None:
        """Return the base's path if it may be read, else None with a problem."""
        mend = "name a .toml file beside this one"
        if folder is None:
            what = "a text on its own cannot extend a file"
            top.refuse(what, "load it from its folder", "extends")
            return None
        if not _is_plain(name):
            what = f"{quoted(name)} is not the path of a .toml file beside this one"
            top.refuse(what, mend, "extends")
            return None
        path = _resolved(folder / name)
        if path is None or not path.is_relative_to(folder.resolve()):
            top.refuse(f"{quoted(name)} leads out of the folder", mend, "extends")
        elif not path.is_file():
            beside = [p.name for p in folder.glob("*.toml") if p not in trail]
            mend = top.did_you_mean(name, beside, kind="files beside it")
            top.refuse(f"there is no file {quoted(name)}", mend, "extends")
        elif path in trail:
            mend = "let one of them stand on its own"
            top.refuse(f"{quoted(name)} leads back to this file", mend, "extends")
        elif len(trail) > DEEPEST:
            what = f"more than {DEEPEST} files extend one another"
            top.refuse(what, "bring some of them together", "extends")
        else:
            return path
        return None

    def _take_away(self, top: Table, draft: Draft) -> None:
        for key, ids, kind in (
            ("remove_wires", draft.wires, "wires of the base"),
            ("remove_devices", draft.devices, "devices of the base"),
        ):
            for index, name in enumerate(top.texts(key) or ()):
                if name not in ids and draft.whole:
                    mend = top.did_you_mean(name, ids, kind=kind)
                    what = f"the base has no {quoted(name)} to take away"
                    top.refuse(what, mend, key, index)
                ids.pop(name, None)
                if key == "remove_devices":
                    draft.removed.add(name)

    def _lay_wires(self, top: Table, draft: Draft) -> None:
        own: dict[str, Table] = {}
        for entry in top.tables("wires") or ():
            entry.only(WIRE_KEYS, of="a wire")
            wire_id = entry.identifier("id")
            if wire_id is None:
                if "id" not in entry.data:
                    entry.missing("id", 'id = "1"')
                own[entry.where] = entry
                continue
            wire = replace(entry, where=f"wires.{wire_id}")
            if wire_id in own:
                first = own[wire_id].spot.line
                what = f"a second wire has the id {quoted(wire_id)}"
                mend = f"give each wire its own id; the first is at line {first}"
                wire.refuse(what, mend, "id")
                own[entry.where] = wire
            else:
                own[wire_id] = wire
        draft.wires.update(own)


def _resolved(path: Path) -> Path | None:
    """Return a path with its links followed; None where that leads nowhere."""
    try:
        path = path.resolve()
        path.is_file()
    except (OSError, RuntimeError):
        return None
    return path


def _is_plain(name: str) -> bool:
    """Tell a path that can only lead downwards, to a harness file."""
    path = PurePosixPath(name)
    bad = any(c in name for c in '\\:\0*?"<>|') or not name.isprintable()
    return not (bad or path.is_absolute() or ".." in path.parts) and (
        path.suffix == ".toml"
    )


def _check_schema(top: Table) -> None:
    data: Mapping[str, object] = top.data
    if "schema" not in data:
        top.missing("schema", f"schema = {SCHEMA} as the first line")
    elif data["schema"] != SCHEMA or isinstance(data["schema"], bool | float):
        what = f"schema is {quoted(data['schema'])}, which this version cannot read"
        top.refuse(what, f"write schema = {SCHEMA}", "schema")
