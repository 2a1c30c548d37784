"""Words for `mend`: the nearest known name, or the names that there are."""

from collections.abc import Iterable
from difflib import get_close_matches

MOST_NAMED = 12
LONGEST_NAME = 64


def did_you_mean(word: str, known: Iterable[str], *, kind: str) -> str:
    """Return advice for a name that is not known.

    Parameters
    ----------
    word : str
        What was written.
    known : iterable of str
        The names that would have been good.
    kind : str
        What the names are, in the plural, such as ``pins of horn``.

    Examples
    --------
    >>> did_you_mean("hron", ["horn", "frame"], kind="devices")
    'did you mean "horn"?'
    >>> did_you_mean("x", ["b", "a"], kind="pins of horn")
    'the pins of horn are a, b'
    >>> did_you_mean("x", [], kind="places")
    'there are no places yet: declare it first'
    """
    names = sorted(set(known))
    if not names:
        return f"there are no {kind} yet: declare it first"
    near = nearest(word, names)
    if near is not None:
        return f"did you mean {quoted(near)}?"
    return f"the {kind} are {listed(names)}"


def pins_are(device: str, pin: str, pins: Iterable[str]) -> str:
    """Return advice for a pin that a device does not have.

    Pins are too short for the nearest name to mean much: a few are listed as they are.

    Examples
    --------
    >>> pins_are("horn", "3", ["1", "2"])
    'the pins of horn are 1, 2'
    """
    names = tuple(pins)
    if 0 < len(names) <= MOST_NAMED:
        return f"the pins of {device} are {listed(names)}"
    return did_you_mean(pin, names, kind=f"pins of {device}")


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known name most like a word, if any is much like it.

    Examples
    --------
    >>> nearest("Ohm", ["ohms", "watts"]), nearest("x", ["ohms"])
    ('ohms', None)
    """
    lowered = {name.lower(): name for name in sorted(set(known), reverse=True)}
    near = get_close_matches(word.lower()[:200], lowered, n=1, cutoff=0.6)
    return lowered[near[0]] if near else None


def listed(names: Iterable[str]) -> str:
    """Return names with commas, cut off after a dozen.

    Examples
    --------
    >>> listed(["on", "off"])
    'on, off'
    """
    every = [_short(name) for name in names]
    more = len(every) - MOST_NAMED
    tail = f" and {more} more" if more > 0 else ""
    return ", ".join(every[:MOST_NAMED]) + tail


def quoted(value: object) -> str:
    """Return an offending value for a message: short, on one line, in quotes.

    Examples
    --------
    >>> quoted("hron")
    '"hron"'
    >>> quoted(12)
    '12'
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{_short(value)}"'
    if isinstance(value, int) and abs(value) > 10**15:
        return "a huge number"
    if isinstance(value, (int, float)):
        return repr(value)
    return named_type(value)


def _short(name: str) -> str:
    """Return a name fit for one line of a message."""
    clean = "".join(c if c.isprintable() else "?" for c in name[: LONGEST_NAME + 1])
    return clean if len(clean) <= LONGEST_NAME else f"{clean[:LONGEST_NAME]}..."


def named_type(value: object) -> str:
    """Return what a value is, in words for one who does not program.

    Examples
    --------
    >>> named_type([1]), named_type({}), named_type(True)
    ('a list', 'a table', 'true or false')
    """
    words: dict[type, str] = {
        bool: "true or false",
        str: "text",
        int: "a whole number",
        float: "a number",
        list: "a list",
        tuple: "a list",
        dict: "a table",
        type(None): "nothing",
    }
    return words.get(type(value), "a date or time")
