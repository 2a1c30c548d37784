"""Remembering what was worked out, up to so many bytes; the longest unused goes."""

from collections import OrderedDict
from collections.abc import Callable
from typing import Generic, TypeVar

K = TypeVar("K")
V = TypeVar("V")


class Remembered(Generic[K, V]):
    """Values by key, the last used kept within a budget.

    Parameters
    ----------
    most_bytes : int
        The last value is kept even when it is larger.
    size_of : callable
        Bytes that a value takes.

    Examples
    --------
    >>> kept = Remembered[str, bytes](most_bytes=6, size_of=len)
    >>> for name in ("one", "two", "six"):
    ...     _ = kept.get(name, lambda name=name: name.encode())
    >>> [name in kept for name in ("one", "two", "six")]
    [False, True, True]
    """

    def __init__(self, *, most_bytes: int, size_of: Callable[[V], int]) -> None:
        self._most_bytes = most_bytes
        self._size_of = size_of
        self._values: OrderedDict[K, V] = OrderedDict()
        self._bytes = 0

    def __contains__(self, key: K) -> bool:
        """Return whether a value is remembered."""
        return key in self._values

    def get(self, key: K, work_out: Callable[[], V]) -> V:
        """Return the value of a key, worked out if it is not remembered."""
        if key in self._values:
            self._values.move_to_end(key)
            return self._values[key]
        value = work_out()
        self._values[key] = value
        self._bytes += self._size_of(value)
        while self._bytes > self._most_bytes and len(self._values) > 1:
            _, gone = self._values.popitem(last=False)
            self._bytes -= self._size_of(gone)
        return value

    def clear(self) -> None:
        """Forget everything."""
        self._values.clear()
        self._bytes = 0
