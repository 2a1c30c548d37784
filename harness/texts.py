"""Bytes and texts to a `Source`: size, encoding and TOML itself."""

import re
import tomllib
from pathlib import Path

from harness.errors import HarnessError, Problem
from harness.reading import Source
from harness.tomllines import LineIndex

LARGEST_BYTES = 2 * 1024 * 1024
# A dotted key costs the reader the square of its parts; a harness needs four at most.
MOST_PARTS = 8
_LONG_KEY = re.compile(
    r"(?<![\w-])(?:(?:[\w-]++|\"(?:[^\"\\]|\\.)*+\"|'[^']*+')[ \t]*\.[ \t]*){8}"
)
_AT_LINE = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$")


def _refuse(what: str, mend: str, file: str, line: int | None = None) -> HarnessError:
    return HarnessError((Problem(what, "the file", mend, line, file),))


def read_source(path: Path, *, file: str = "") -> Source:
    """Read a file of at most 2 MiB.

    Parameters
    ----------
    path : Path
        The file.
    file : str
        The name that problems carry; empty for the file that was asked for.

    Raises
    ------
    HarnessError
        If it cannot be read, is too large, or is not UTF-8 or not TOML.
    """
    try:
        with path.open("rb") as handle:
            content = handle.read(LARGEST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else None
        what = f"it cannot be read ({reason or 'not a file name'})"
        raise _refuse(what, "check the name and the permissions", file) from error
    return source_of(content, file=file)


def source_of(content: bytes | str, *, file: str = "") -> Source:
    """Return the tables of a TOML text, with their lines.

    Raises
    ------
    HarnessError
        If it is over 2 MiB, or not UTF-8, or not TOML.
    """
    text = _decoded(content, file)
    for number, line in enumerate(text.split("\n"), start=1):
        if line.count(".") >= MOST_PARTS and _has_long_key(line):
            what = f"a key has more than {MOST_PARTS} parts"
            raise _refuse(what, "a harness needs no more than four", file, number)
    try:
        data = tomllib.loads(text)
        lines = LineIndex(text)
    except RecursionError as error:
        what = "lists or tables are nested too deep"
        raise _refuse(what, "a harness needs no more than five levels", file) from error
    except ValueError as error:
        raise _not_toml(str(error), text, file) from error
    return Source(data, lambda path: lines.line_of(path) or 1, file)


def _decoded(content: bytes | str, file: str) -> str:
    try:
        raw = content.encode() if isinstance(content, str) else content
    except UnicodeEncodeError as error:
        raise _refuse("it is not UTF-8 text", "save it as UTF-8", file) from error
    if len(raw) > LARGEST_BYTES:
        what = "it is larger than 2 MiB"
        raise _refuse(what, "a harness file holds one bike's loom only", file)
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        what = f"it is not UTF-8 text (byte {error.start + 1})"
        raise _refuse(what, "save it as UTF-8", file, line) from error


def _has_long_key(line: str) -> bool:
    comment = line.lstrip().startswith("#")
    return not comment and _LONG_KEY.search(line) is not None


def _not_toml(message: str, text: str, file: str) -> HarnessError:
    """Return the reader's own complaint, with its line taken out of the words."""
    found = _AT_LINE.search(message)
    line = text.count("\n") + 1
    column = ""
    if found and found[1]:
        line, column = int(found[1]), f", column {found[2]}"
    said = _AT_LINE.sub("", message)
    said = said.encode("ascii", "replace").decode()[:160]
    what = f"it is not TOML{column}: {said[:1].lower()}{said[1:]}"
    repeated = "twice" in said or "overwrite" in said or "redefine" in said.lower()
    mend = "each key and table may stand only once" if repeated else _MEND_SYNTAX
    return _refuse(what, mend, file, line)


_MEND_SYNTAX = "put text in quotes and write one key = value a line, such as mm2 = 1.5"
