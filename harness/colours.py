"""Wire colours: the letters of IEC 60757, their names, and what a screen shows.

A wire's colour is written as letters run together: the base colour first, then the
tracer, upper or lower case. That order is the trade's; the standard itself only lists
the letters. ``GNYE`` (green with yellow) is a code of the standard in its own right.
The screen colours are our own choice and never stand without their letters.
"""

from dataclasses import dataclass

from harness.suggestions import quoted

NAMES: dict[str, str] = {
    "BK": "black",
    "BN": "brown",
    "RD": "red",
    "OG": "orange",
    "YE": "yellow",
    "GN": "green",
    "BU": "blue",
    "VT": "violet",
    "GY": "grey",
    "WH": "white",
    "PK": "pink",
    "GD": "gold",
    "TQ": "turquoise",
    "SR": "silver",
    "GNYE": "green with yellow",
}

SCREEN: dict[str, str] = {
    "BK": "#26241f",
    "BN": "#7b4a21",
    "RD": "#c22f28",
    "OG": "#e07b1a",
    "YE": "#e8c51e",
    "GN": "#2e7d3a",
    "BU": "#2a5fa8",
    "VT": "#7a4a9c",
    "GY": "#8a8883",
    "WH": "#f4f1e6",
    "PK": "#e59aae",
    "GD": "#b8912f",
    "TQ": "#2ba6a4",
    "SR": "#b9bec2",
}


@dataclass(frozen=True, slots=True)
class WireColour:
    """A base colour and a tracer, as letters of the standard.

    Attributes
    ----------
    base : str
        Two letters, or ``GNYE``.
    tracer : str or None
        Two letters; None for a wire of one colour.
    """

    base: str
    tracer: str | None = None

    @property
    def letters(self) -> str:
        """The letters run together, in upper case."""
        return self.base + (self.tracer or "")

    @property
    def words(self) -> str:
        """The colour in words."""
        tracer = f" with {NAMES[self.tracer]} tracer" if self.tracer else ""
        return NAMES[self.base] + tracer

    @property
    def screen(self) -> tuple[str, str | None]:
        """Screen colours of base and stripe; green with yellow has both."""
        if self.base == "GNYE":
            return SCREEN["GN"], SCREEN[self.tracer or "YE"]
        return SCREEN[self.base], SCREEN[self.tracer] if self.tracer else None


def parse_colour(letters: str) -> WireColour:
    """Return the base and tracer of letters run together.

    Raises
    ------
    ValueError
        If they are not one or two different colours of the standard; the message says
        which letters are at fault.

    Examples
    --------
    >>> parse_colour("rdwh")
    WireColour(base='RD', tracer='WH')
    >>> parse_colour("GNYE")
    WireColour(base='GNYE', tracer=None)
    """
    code = letters.upper()
    base = "GNYE" if code.startswith("GNYE") else code[:2]
    tracer = code[len(base) :]
    if base not in NAMES:
        raise ValueError(f"{quoted(letters)} is not a colour")
    if not tracer:
        return WireColour(base)
    if tracer not in SCREEN:
        raise ValueError(f"{quoted(letters)} has no tracer colour after {base}")
    if tracer == base:
        raise ValueError(f"{quoted(letters)} has the same colour twice")
    return WireColour(base, tracer)


def describe(letters: str) -> str:
    """Return a colour in words.

    Raises
    ------
    ValueError
        If the letters are not a colour.

    Examples
    --------
    >>> describe("RDWH")
    'red with white tracer'
    >>> describe("bk")
    'black'
    """
    return parse_colour(letters).words
