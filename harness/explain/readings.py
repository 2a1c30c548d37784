"""A word, or a band of a meter, as it is said."""

from collections.abc import Mapping

_UNITS = {"v": "V", "ohm": "ohm", "a": "A"}


def reading(reads: str | Mapping[str, float | None]) -> str:
    """Return a word, or a band of a meter, as it is said.

    Examples
    --------
    >>> reading("lit"), reading({"from_v": None, "to_v": 0.9})
    ('lit', 'under 0.9 V')
    >>> reading({"from_ohm": 3, "to_ohm": None}), reading({"from_a": 1, "to_a": 6})
    ('3 ohm or more', '1 to 6 A')
    """
    if isinstance(reads, str):
        return reads
    (first, low), (_, high) = reads.items()
    unit = _UNITS[first.rpartition("_")[2]]
    if low is None:
        return "anything" if high is None else f"under {high:g} {unit}"
    return f"{low:g} {unit} or more" if high is None else f"{low:g} to {high:g} {unit}"
