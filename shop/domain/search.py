"""What somebody typed into the one search box, read in the ways it may be meant."""

from dataclasses import dataclass

MOST_WORDS = 8
LONGEST_WORD = 80
SHORTEST_PART = 2
_LONGEST_NUMBER = 9  # digits that an integer column holds


def squeezed(text: str) -> str:
    """Return letters and digits alone, in capitals: how stamped numbers compare.

    Examples
    --------
    >>> squeezed("hx-350 / 0417")
    'HX3500417'
    """
    return "".join(letter for letter in text if letter.isalnum()).upper()


@dataclass(frozen=True, slots=True)
class Wanted:
    """What was typed.

    Parameters
    ----------
    text : str
        As it was typed, without what no database column can hold.
    words : tuple of str
        All of them must be found, in any order and in any column.
    """

    text: str
    words: tuple[str, ...]

    @classmethod
    def of(cls, typed: str) -> "Wanted":
        """Read what was typed.

        Examples
        --------
        >>> Wanted.of(" heron  350 ").words
        ('heron', '350')
        """
        readable = "".join(sign if sign.isprintable() else " " for sign in typed)
        words = tuple(word[:LONGEST_WORD] for word in readable.split()[:MOST_WORDS])
        return cls(text=" ".join(words), words=words)

    @property
    def key(self) -> str:
        """The whole of it as a stamped number."""
        return squeezed(self.text)

    @property
    def has_digits(self) -> bool:
        """Whether it may be a stamped number or a phone's: those have digits."""
        return any(sign.isdigit() for sign in self.key)

    @property
    def is_nothing(self) -> bool:
        """Whether there is nothing to look for."""
        return not self.key

    @property
    def is_too_short(self) -> bool:
        """Whether it is too short to be looked for inside words."""
        return len(self.key) < SHORTEST_PART

    def number(self, prefix: str) -> int | None:
        """Return the number meant, with or without the prefix it is printed with.

        Examples
        --------
        >>> Wanted.of("wo 12").number("WO"), Wanted.of("12").number("WO")
        (12, 12)
        >>> Wanted.of("wo 12").number("T") is None
        True
        """
        digits = self.key.removeprefix(prefix.upper())
        if not (digits.isascii() and digits.isdecimal()):
            return None
        return int(digits) if len(digits) <= _LONGEST_NUMBER else None
