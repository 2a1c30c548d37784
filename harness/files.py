"""Harness files: TOML in, a frozen `Harness` out, or every problem at once.

A file has a schema number, nominal volts, which pole is earthed, then places, devices
and wires; the keys of each kind stand in `device_tables.py` and `wire_tables.py`. Ids
are letters, digits, ``-`` and ``_`` (names may be any text); pins may have ``+`` as
well, so that ``B+`` and ``D-`` can be written as the maker stamped them.

Loading never runs anything from a file, reads nothing outside its folder, and either
gives a whole harness or raises.
"""

from pathlib import Path

from harness.checks import check_parts
from harness.errors import HarnessError, Problem
from harness.model import Harness
from harness.parts import read_parts
from harness.reading import Source
from harness.texts import read_source, source_of
from harness.variants import draft_of

UNTITLED = "Untitled harness"


def load(path: str | Path) -> Harness:
    """Load a harness file, with whatever it extends.

    Parameters
    ----------
    path : str or Path
        A TOML file.

    Returns
    -------
    Harness

    Raises
    ------
    HarnessError
        With every problem in the file and its bases, by line.
    """
    file = Path(path)
    try:
        source = read_source(file)
    except HarnessError as error:
        raise HarnessError(error.problems, name=str(path)) from error
    return _harness(source, name=str(path), folder=file.parent, path=file)


def loads(text: str, *, name: str = "", base_dir: str | Path | None = None) -> Harness:
    r"""Load a harness from a text.

    Parameters
    ----------
    text : str
        TOML.
    name : str
        What messages call it.
    base_dir : str or Path, optional
        Where a file that it extends would be; without it, ``extends`` is refused.

    Raises
    ------
    HarnessError
        With every problem, by line.

    Examples
    --------
    >>> h = loads('''
    ... schema = 1
    ... title = "Horn"
    ... volts = 12
    ... earth = "negative"
    ... [devices]
    ... battery = { kind = "battery" }
    ... horn = { kind = "load", watts = 30 }
    ... [[wires]]
    ... id = "1"
    ... from = "battery.pos"
    ... to = "horn.1"
    ... colour = "rdwh"
    ... mm2 = 1.5
    ... metres = 2
    ... ''')
    >>> h.wires["1"].colour, round(h.wires["1"].resistance_ohm, 4)
    ('RDWH', 0.0306)
    >>> h.devices["horn"].spec
    Load(ohms=4.8)
    """
    try:
        source = source_of(text)
    except HarnessError as error:
        raise HarnessError(error.problems, name=name) from error
    folder = None if base_dir is None else Path(base_dir)
    return _harness(source, name=name, folder=folder, path=None)


def from_source(source: Source, *, name: str = "") -> Harness:
    """Load a harness from tables that did not come from TOML, such as a wire list.

    Parameters
    ----------
    source : Source
        The same tables as a file has, with the line of each path.
    name : str
        What messages call it.

    Raises
    ------
    HarnessError
        With every problem, by line.
    """
    return _harness(source, name=name, folder=None, path=None)


def _harness(
    source: Source, *, name: str, folder: Path | None, path: Path | None
) -> Harness:
    problems: list[Problem] = []
    draft = draft_of(source, name=name, folder=folder, path=path, problems=problems)
    title = Path(name).stem.replace("-", " ") or UNTITLED
    parts = read_parts(draft, title=title)
    if draft.whole:
        check_parts(parts)
    if problems:
        raise HarnessError(_in_order(problems), name=name)
    return parts.harness()


def _in_order(problems: list[Problem]) -> tuple[Problem, ...]:
    """Sort by file and line, the file that was asked for first; each one once."""
    once = dict.fromkeys(problems)
    return tuple(sorted(once, key=lambda p: (p.file, p.line or 0)))
