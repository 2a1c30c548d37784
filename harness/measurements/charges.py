"""Charge of a lead-acid battery, between the harshest and the kindest table.

Two published tables of rest voltage differ by up to 0.15 V at the same charge, and
makers differ by 0.1 V; so a reading gives a span of charge, never one figure. Rest
voltage and gravity are tied by Vinal's rule: volts a cell = gravity + 0.84.
"""

import itertools
from dataclasses import dataclass

from harness.measurements.sources import Confidence, Source, Standing

# Charge in percent, and the volts of a 12 V battery at 25 °C that two tables give.
REST_V_AT_12V: tuple[tuple[float, float, float], ...] = (
    (0, 11.6, 11.9),
    (25, 12.0, 12.15),
    (50, 12.2, 12.3),
    (75, 12.4, 12.45),
    (100, 12.6, 12.7),
)
REST_V_SOURCE = Source(
    "Two tables of rest voltage and charge at 25 °C in battery-care texts; makers "
    "differ by 0.1 V",
    Standing.PUBLISHED,
    Confidence.MEDIUM,
)

CELL_V_ABOVE_GRAVITY = 0.84
RULE_SOURCE = Source(
    "Vinal, Storage Batteries: rest volts a cell = specific gravity + 0.84",
    Standing.FROM_MEMORY,
    Confidence.HIGH,
)

# Charge in percent, and the gravities of the first of those tables at about 27 °C.
# It stops at 25 %; the flat end is the flat end of the rest voltages, by Vinal's rule.
GRAVITY_AT_CHARGE: tuple[tuple[float, float, float], ...] = (
    (0, 11.6 / 6 - CELL_V_ABOVE_GRAVITY, 11.9 / 6 - CELL_V_ABOVE_GRAVITY),
    (25, 1.170, 1.190),
    (50, 1.200, 1.220),
    (75, 1.230, 1.250),
    (100, 1.260, 1.280),
)
GRAVITY_SOURCE = Source(
    "A table of specific gravity and charge in a battery-care text",
    Standing.PUBLISHED,
    Confidence.MEDIUM,
)


@dataclass(frozen=True, slots=True)
class Charge:
    """A span of charge in percent, by the harshest and by the kindest table."""

    harsh_percent: float
    kind_percent: float

    @property
    def words(self) -> str:
        """The span in words.

        Examples
        --------
        >>> Charge(60.0, 82.0).words, Charge(100.0, 100.0).words
        ('60 to 82 % charged', '100 % charged')
        """
        low, high = round(self.harsh_percent), round(self.kind_percent)
        return f"{low} % charged" if low == high else f"{low} to {high} % charged"


def charge_of_rest_v(rest_v: float, *, cells: int) -> Charge:
    """Return the charge that a rest voltage at 25 °C stands for.

    Examples
    --------
    >>> charge_of_rest_v(12.43, cells=6).words
    '72 to 79 % charged'
    >>> charge_of_rest_v(6.21, cells=3) == charge_of_rest_v(12.42, cells=6)
    True
    """
    return _span(rest_v * 6 / cells, REST_V_AT_12V)


def charge_of_gravity(gravity: float) -> Charge:
    """Return the charge that a gravity, corrected for temperature, stands for.

    Examples
    --------
    >>> charge_of_gravity(1.250).words
    '75 to 92 % charged'
    """
    return _span(gravity, GRAVITY_AT_CHARGE)


def rest_v_of_gravity(gravity: float, *, cells: int) -> float:
    """Return the rest voltage of a battery of this gravity, by Vinal's rule.

    Examples
    --------
    >>> round(rest_v_of_gravity(1.265, cells=6), 2)
    12.63
    """
    return cells * (gravity + CELL_V_ABOVE_GRAVITY)


def gravity_of_rest_v(rest_v: float, *, cells: int) -> float:
    """Return the mean gravity of a battery of this rest voltage, by Vinal's rule."""
    return rest_v / cells - CELL_V_ABOVE_GRAVITY


def between(x: float, points: tuple[tuple[float, float], ...]) -> float:
    """Interpolate linearly in points of rising x, held constant beyond the ends.

    Examples
    --------
    >>> between(5.0, ((0.0, 0.0), (10.0, 1.0)))
    0.5
    """
    if x <= points[0][0]:
        return points[0][1]
    for (low_x, low_y), (high_x, high_y) in itertools.pairwise(points):
        if x < high_x:
            return low_y + (high_y - low_y) * (x - low_x) / (high_x - low_x)
    return points[-1][1]


def _span(value: float, table: tuple[tuple[float, float, float], ...]) -> Charge:
    kindest = tuple((low, percent) for percent, low, _ in table)
    harshest = tuple((high, percent) for percent, _, high in table)
    return Charge(between(value, harshest), between(value, kindest))
