"""Typed reading of tables: each wrong value becomes a problem with its line.

A `Table` wraps one table of the file. Its readers return None where the key is missing
or wrong; what is wrong is noted in the list that all tables of one load share, so that
a load can go on to the end and tell everything at once.
"""

import math
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import cast

from harness.errors import Problem
from harness.suggestions import did_you_mean, named_type, nearest, quoted

Path = tuple[str | int, ...]

ID_RULE = "letters, digits, - and _ (at most 64)"
PIN_RULE = "letters, digits, -, + and _ (at most 64)"
_ID = re.compile(r"[A-Za-z0-9_-]{1,64}", re.ASCII)
_PIN = re.compile(r"[A-Za-z0-9_+-]{1,64}", re.ASCII)
# Neither XML nor the database can hold these; line feed and tab are good.
_CONTROL = re.compile("[\\x00-\\x08\\x0b-\\x1f\\x7f-\\x9f\\ufffe\\uffff]")
LONGEST_TEXT = 2000
MOST_SUGGESTIONS = 200

# What each number is, and the least and most that this tool can work with. The bounds
# are wide: they keep out slips of the keyboard that no solver could digest.
QUANTITIES: dict[str, tuple[str, float, float]] = {
    "emf": ("volts", 0.01, 100),
    "volts": ("volts", 0.01, 100),
    "at_volts": ("volts", 0.01, 100),
    "pull_in_volts": ("volts", 0.01, 100),
    "drop_volts": ("volts", 0.001, 100),
    "ohms": ("ohms", 1e-9, 1e12),
    "coil_ohms": ("ohms", 1e-9, 1e12),
    "amps": ("amperes", 1e-3, 1e4),
    "watts": ("watts", 1e-3, 1e5),
    "capacity_ah": ("ampere-hours", 1e-3, 1e4),
    "metres": ("metres", 1e-4, 1e3),
    "access_minutes": ("minutes", 0, 1e5),
}


@dataclass(frozen=True, slots=True)
class Source:
    """One file as read: its tables, and the line of each path in it.

    `file` is the name that problems carry; empty for the file that was asked for.
    """

    data: Mapping[str, object]
    line_of: Callable[[Path], int | None]
    file: str = ""


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in a file."""

    source: Source
    path: Path = ()

    @property
    def line(self) -> int | None:
        """The line; that of the nearest thing around it if it has none of its own."""
        return self.source.line_of(self.path)

    def under(self, *parts: str | int) -> "Spot":
        """Return the spot of something inside this one."""
        return replace(self, path=self.path + parts)


def _shown(key: str) -> str:
    """Return a key as it is, or in quotes where it is no id."""
    return key if _ID.fullmatch(key) else quoted(key)


@dataclass(frozen=True, slots=True)
class Table:
    """One table of a file, with readers that note what is wrong.

    Attributes
    ----------
    data : mapping of str to object
        The table as the TOML reader gave it.
    spot : Spot
        Where it stands.
    where : str
        What problems call it, such as ``devices.horn``.
    problems : list of Problem
        Shared by every table of one load.
    misspelt : set of str
        Keys that an unknown key was most likely meant for, so that they are not told
        to be missing as well.
    """

    data: Mapping[str, object]
    spot: Spot
    where: str
    problems: list[Problem]
    misspelt: set[str] = field(default_factory=set)

    def refuse(self, what: str, mend: str, *inside: str | int) -> None:
        """Note a problem with the table, or with something inside it."""
        spot = self.spot.under(*inside)
        keys = [_shown(part) for part in inside if isinstance(part, str)]
        where = ".".join(part for part in (self.where, *keys) if part)
        self.problems.append(
            Problem(what, where or "the file", mend, spot.line, spot.source.file)
        )

    def did_you_mean(self, word: str, known: Iterable[str], *, kind: str) -> str:
        """Return advice for an unknown name; plainer after the first 200 problems.

        Looking for near names takes long where there are thousands of both.
        """
        if len(self.problems) > MOST_SUGGESTIONS:
            return f"name one of the {kind}"
        return did_you_mean(word, known, kind=kind)

    def only(self, allowed: Iterable[str], *, of: str) -> None:
        """Refuse every key that is not allowed."""
        known = tuple(allowed)
        for key in self.data:
            if key not in known:
                self.misspelt.add(nearest(key, known) or "")
                mend = self.did_you_mean(key, known, kind=f"keys of {of}")
                self.refuse(f"{of} has no key {quoted(key)}", mend, key)

    def _wrong_type(self, key: str, wanted: str, mend: str) -> None:
        value = self.data[key]
        self.refuse(f"{key} is {named_type(value)}, not {wanted}", mend, key)

    def text(self, key: str) -> str | None:
        """Return a text; control characters and great lengths are refused."""
        if key not in self.data:
            return None
        value = self.data[key]
        if not isinstance(value, str):
            mend = f'put it in quotes: {key} = "..."'
            self._wrong_type(key, "text", mend)
            return None
        if len(value) > LONGEST_TEXT:
            what = f"{key} is {len(value)} characters long"
            self.refuse(what, f"keep it under {LONGEST_TEXT}", key)
            return None
        if _CONTROL.search(value):
            what = f"{key} has control characters in it"
            self.refuse(what, "write plain text", key)
            return None
        return value

    def identifier(self, key: str) -> str | None:
        """Return a text that can be an id."""
        value = self.text(key)
        if value is None or not self.check_id(value, key):
            return None
        return value

    def check_id(self, value: str, *inside: str | int) -> bool:
        """Refuse a text that would break the name of a segment."""
        if _ID.fullmatch(value):
            return True
        self.refuse(f"{quoted(value)} cannot be an id", f"use {ID_RULE}", *inside)
        return False

    def check_pin(self, value: str, *inside: str | int) -> bool:
        """Refuse a text that cannot be a pin."""
        if _PIN.fullmatch(value):
            return True
        what = f"{quoted(value)} cannot be a pin"
        self.refuse(what, f"use {PIN_RULE}", *inside)
        return False

    def number(self, key: str, default: float | None = None) -> float | None:
        """Return a finite number in the bounds of its quantity."""
        if key not in self.data:
            return default
        value = self.data[key]
        unit, low, high = QUANTITIES[key]
        if isinstance(value, bool) or not isinstance(value, int | float):
            self._wrong_type(key, "a number", f"write {unit} as a bare number")
            return default
        if isinstance(value, float) and not math.isfinite(value):
            self.refuse(f"{key} is not a finite number", f"give it in {unit}", key)
        elif value < 0 or (value == 0 and low > 0):
            what = f"{key} is {quoted(value)}, which is not above zero"
            self.refuse(what, f"give it in {unit}, above zero", key)
        elif not low <= value <= high:
            what = f"{key} is {quoted(value)} {unit}, outside {low:g} to {high:g}"
            self.refuse(what, "check the unit and the decimal point", key)
        else:
            return float(value)
        return default

    def required(self, key: str) -> float | None:
        """Return a number that must be there."""
        if key not in self.data:
            self.missing(key, f"{key} = ...")
        return self.number(key)

    def missing(self, key: str, example: str) -> None:
        """Note that a key is not there, unless it is there misspelt."""
        if key not in self.misspelt:
            self.refuse(f"{key} is missing", f"add {example}")

    def flag(self, key: str) -> bool:
        """Return true or false; false where it is missing."""
        value = self.data.get(key, False)
        if isinstance(value, bool):
            return value
        self._wrong_type(key, "true or false", f"write {key} = true or leave it out")
        return False

    def texts(self, key: str) -> list[str] | None:
        """Return a list of texts, as it stands."""
        if key not in self.data:
            return None
        return self.texts_in(self.data[key], key)

    def texts_in(self, value: object, *inside: str | int) -> list[str] | None:
        """Return a value that must be a list of texts, wherever it stands."""
        mend = 'write a list of texts: ["...", "..."]'
        if not isinstance(value, list):
            what = f"{named_type(value)} where a list of texts is wanted"
            self.refuse(what, mend, *inside)
            return None
        for index, item in enumerate(value):
            if not isinstance(item, str):
                what = f"{named_type(item)} in a list of texts"
                self.refuse(what, mend, *inside, index)
                return None
        return cast("list[str]", value)

    def all_different(self, values: list[str], *inside: str, of: str) -> bool:
        """Refuse each value that stands a second time in a list."""
        seen: set[str] = set()
        for index, value in enumerate(values):
            if value in seen:
                what = f"there is a second {of} called {quoted(value)}"
                self.refuse(what, "name each one once", *inside, index)
            seen.add(value)
        return len(seen) == len(values)

    def tables(self, key: str) -> "list[Table] | None":
        """Return a list of tables, each with its own spot."""
        if key not in self.data:
            return None
        value = self.data[key]
        mend = f"write {key} = [ {{ ... }}, {{ ... }} ]"
        if not isinstance(value, list):
            self._wrong_type(key, "a list of tables", mend)
            return None
        found = []
        for index, item in enumerate(value):
            if isinstance(item, dict):
                spot = self.spot.under(key, index)
                where = f"{self.where}.{key}[{index + 1}]"
                found.append(Table(item, spot, where.lstrip("."), self.problems))
            else:
                what = f"{named_type(item)} in a list of tables"
                self.refuse(what, mend, key, index)
        return found

    def subtables(self, key: str) -> "dict[str, Table]":
        """Return the tables of a table of tables, by id, bad ids refused."""
        value = self.data.get(key, {})
        if not isinstance(value, dict):
            self._wrong_type(key, "a table", f"write [{key}.some-id]")
            return {}
        found = {}
        for name, item in value.items():
            spot = self.spot.under(key, name)
            child = Table({}, spot, f"{key}.{_shown(name)}", self.problems)
            child.check_id(name)
            if isinstance(item, dict):
                found[name] = replace(child, data=item)
            else:
                what = f"{named_type(item)} where a table is wanted"
                child.refuse(what, f"write [{key}.some-id] and its keys under it")
        return found
