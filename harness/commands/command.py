"""What a command is: its arguments, and an answer in words and as data."""

from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Answer:
    """What a command found.

    Attributes
    ----------
    document : dict of str to object
        The whole answer as data fit for JSON.
    text : str
        The same for a person at a terminal.
    """

    document: dict[str, object]
    text: str


@dataclass(frozen=True, slots=True)
class Command:
    """One command of the command line.

    Attributes
    ----------
    name : str
        The word that calls it.
    about : str
        One line for the help.
    arguments : callable
        Adds the command's own arguments to its parser.
    run : callable
        Does the work; raises `HarnessError` where a file is bad, `WrongUse` where the
        arguments are. What takes long may tell `err` of its arguments how far it is.
    """

    name: str
    about: str
    arguments: Callable[[ArgumentParser], None]
    run: Callable[[Namespace], Answer]


class WrongUse(Exception):  # noqa: N818 - what it is, in the words of the help
    """The arguments cannot be used; the message says why."""


def table(rows: Sequence[Sequence[str]], *, indent: int = 2, right: str = "") -> str:
    """Return rows as columns, each as wide as its widest cell.

    Parameters
    ----------
    rows : sequence of sequence of str
        Cells; every row has as many.
    indent : int
        Spaces before each row.
    right : str
        One letter a column, ``r`` for those set to the right; the rest go left.

    Examples
    --------
    >>> print(table([("horn.1", "12.1"), ("frame.e", "0.0")], right=" r"))
      horn.1   12.1
      frame.e   0.0
    """
    if not rows:
        return ""
    widths = [max(len(row[n]) for row in rows) for n in range(len(rows[0]))]
    sides = right.ljust(len(widths))
    lines = []
    for row in rows:
        cells = [
            cell.rjust(width) if side == "r" else cell.ljust(width)
            for cell, width, side in zip(row, widths, sides, strict=True)
        ]
        lines.append(" " * indent + "  ".join(cells).rstrip())
    return "\n".join(lines)
