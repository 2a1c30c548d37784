"""The electrical system that a measurement is made on: its volts and its polarity."""

from dataclasses import dataclass
from typing import Literal, cast, get_args

from harness.errors import HarnessError, Problem

SYSTEM_VOLTS = (6, 12, 24)
Earth = Literal["negative", "positive"]


@dataclass(frozen=True, slots=True)
class System:
    """Nominal volts, and which pole of the battery is bonded to the frame.

    Raises
    ------
    HarnessError
        When either is none that a bike has; polarity is never assumed.

    Examples
    --------
    >>> System(6, "positive").cells
    3
    """

    volts: int
    earth: Earth

    def __post_init__(self) -> None:
        """Refuse what is no bike's system."""
        problems = []
        if self.volts not in SYSTEM_VOLTS:
            what = f"there is no system of {self.volts!r} V"
            problems.append(Problem(what, "volts", "give 6, 12 or 24"))
        if self.earth not in get_args(Earth):
            what = f"the earthed pole cannot be {self.earth!r}"
            problems.append(Problem(what, "earth", "give negative or positive"))
        if problems:
            raise HarnessError(tuple(problems))

    @property
    def cells(self) -> int:
        """Cells of its lead-acid battery."""
        return self.volts // 2

    @property
    def share_of_12v(self) -> float:
        """Its volts as a share of 12 V, by which limits for 12 V are scaled."""
        return self.volts / 12


def system_of(*, volts: float, earth: str) -> System:
    """Return the system of a loom, whose volts may be given as 12.0.

    Raises
    ------
    HarnessError
        When there is no such system.
    """
    whole = int(volts) if volts in SYSTEM_VOLTS else volts
    return System(cast("int", whole), cast("Earth", earth))
