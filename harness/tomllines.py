"""Which line of a TOML text each table, entry and key stands on.

The standard library's reader gives values without lines. This scanner walks over a
text that the reader has ALREADY accepted and notes where everything begins, so that a
problem can name its line. It decides nothing about what is good TOML.
"""

import re
import tomllib

Path = tuple[str | int, ...]

_BLANK = re.compile(r"(?:[ \t\n]|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_PLAIN_VALUE = re.compile(r"[^,\]}#\n]+")
_TEXT = {
    '"""': re.compile(r'"""(?:[^"\\]|\\.|"(?!""))*+"""(?:"{0,2})', re.DOTALL),
    "'''": re.compile(r"'''(?:[^']|'(?!''))*+'''(?:'{0,2})"),
    '"': re.compile(r'"(?:[^"\\\n]|\\.)*+"'),
    "'": re.compile(r"'[^'\n]*'"),
}


class LineIndex:
    r"""Lines by path, counted from 1.

    Parameters
    ----------
    text : str
        A text that `tomllib` accepts.

    Raises
    ------
    ValueError
        If the scanner loses its way, which good TOML never makes it do.

    Examples
    --------
    >>> index = LineIndex("a = 1\n[[wires]]\nid = '1'\nlist = [\n  1,\n  2]\n")
    >>> index.line_of(("wires", 0, "id")), index.line_of(("wires", 0, "list", 1))
    (3, 6)
    >>> index.line_of(("wires", 0, "colour"))  # not there: the line of its table
    2
    """

    def __init__(self, text: str) -> None:
        self._lines = _Scanner(text.replace("\r\n", "\n")).scan()

    def line_of(self, path: Path) -> int | None:
        """Return the line of a path, or of the nearest thing that holds it."""
        for length in range(len(path), 0, -1):
            if path[:length] in self._lines:
                return self._lines[path[:length]]
        return None

    def __contains__(self, path: Path) -> bool:
        """Tell whether a path has a line of its own."""
        return path in self._lines


class _Scanner:
    """A walk over the text; `table` is where keys go now."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.line = 1
        self.table: Path = ()
        self.lines: dict[Path, int] = {}
        self.entries: dict[Path, int] = {}

    def scan(self) -> dict[Path, int]:
        self._pass(_BLANK)
        while self.at < len(self.text):
            if self._next() == "[":
                self._header()
            else:
                self._pair(self.table)
            self._pass(_BLANK)
        return self.lines

    def _next(self) -> str:
        return self.text[self.at : self.at + 1]

    def _pass(self, pattern: re.Pattern[str]) -> str:
        match = pattern.match(self.text, self.at)
        if match is None:
            raise ValueError(f"cannot follow the text (at line {self.line})")
        self.at = match.end()
        self.line += match.group().count("\n")
        return match.group()

    def _skip(self, length: int) -> None:
        self.at += length

    def _note(self, path: Path) -> None:
        """Note a path, and those above it that have no line yet."""
        for length in range(1, len(path) + 1):
            self.lines.setdefault(path[:length], self.line)

    def _header(self) -> None:
        brackets = 2 if self.text.startswith("[[", self.at) else 1
        self._skip(brackets)
        parts = self._key()
        above = self._inside(parts[:-1])
        self.table = (*above, parts[-1])
        if brackets == 2:  # noqa: PLR2004 - [[ opens an entry of a list
            entry = self.entries.get(self.table, -1) + 1
            self.entries[self.table] = entry
            self.lines.setdefault(self.table, self.line)
            self.table = (*self.table, entry)
        elif self.table in self.entries:
            self.table = (*self.table, self.entries[self.table])
        self._note(self.table)
        self._skip(brackets)

    def _inside(self, parts: list[str]) -> Path:
        """Return the path of a table, by way of the newest entry of each list."""
        path: Path = ()
        for part in parts:
            path = (*path, part)
            if path in self.entries:
                path = (*path, self.entries[path])
        return path

    def _key(self) -> list[str]:
        parts = []
        while True:
            self._pass(_SPACE)
            parts.append(self._key_part())
            self._pass(_SPACE)
            if self._next() != ".":
                return parts
            self._skip(1)

    def _key_part(self) -> str:
        quote = self._next()
        if quote not in ("'", '"'):
            return self._pass(_BARE_KEY)
        literal = self._pass(_TEXT[quote])
        return str(tomllib.loads(f"key = {literal}")["key"])

    def _pair(self, table: Path) -> None:
        path = (*table, *self._key())
        self._note(path)
        self._skip(1)
        self._pass(_SPACE)
        self._value(path)

    def _value(self, path: Path) -> None:
        first = self._next()
        if first == "[":
            self._list(path)
        elif first == "{":
            self._inline_table(path)
        elif first in ("'", '"'):
            tripled = first * 3
            long = self.text.startswith(tripled, self.at)
            self._pass(_TEXT[tripled if long else first])
        else:
            self._pass(_PLAIN_VALUE)

    def _list(self, path: Path) -> None:
        self._skip(1)
        self._pass(_BLANK)
        entry = 0
        while self._next() != "]":
            self._note((*path, entry))
            self._value((*path, entry))
            entry += 1
            self._pass(_BLANK)
            if self._next() == ",":
                self._skip(1)
                self._pass(_BLANK)
        self._skip(1)

    def _inline_table(self, path: Path) -> None:
        self._skip(1)
        self._pass(_SPACE)
        while self._next() != "}":
            self._pair(path)
            self._pass(_SPACE)
            if self._next() == ",":
                self._skip(1)
                self._pass(_SPACE)
        self._skip(1)
