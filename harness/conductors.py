"""Copper conductors: sizes, ohms a metre, temperature, and current by rule of thumb.

The resistance table is IEC 60228:2004 table 3, class 5 (flexible), plain annealed
copper, MAXIMUM ohms a kilometre at 20 °C: what a good flexible conductor may have at
most. Cable made to the road-vehicle standards (ISO 6722-1 / ISO 19642) is a different
table and lies about 5 % lower; pure copper (IEC 60028) lies lower again. A loom in
good order therefore reads a little better than this module says, never worse.

Between two rows, ohms a metre times area is interpolated linearly in the logarithm of
the area; beyond the ends it is held constant. An AWG size goes by its area (ASTM B258).
"""

import math
from bisect import bisect_right

SMALLEST_MM2 = 0.2
LARGEST_MM2 = 50.0
SMALLEST_AWG = 24
LARGEST_AWG = 1

# IEC 60228:2004 table 3, class 5, plain copper: mm2 -> ohm/km at 20 °C, at most.
CLASS_5_OHMS_PER_KM: tuple[tuple[float, float], ...] = (
    (0.5, 39.0),
    (0.75, 26.0),
    (1.0, 19.5),
    (1.5, 13.3),
    (2.5, 7.98),
    (4.0, 4.95),
    (6.0, 3.30),
    (10.0, 1.91),
    (16.0, 1.21),
    (25.0, 0.780),
    (35.0, 0.554),
)

# IEC 60028 (1925): annealed copper at 20 °C.
COPPER_OHM_MM2_PER_M = 1 / 58
COPPER_ALPHA_PER_K = 0.00393

# Common practice, no source: vehicle wire in a bundle, amperes for each mm2.
CONTINUOUS_A_PER_MM2 = 5.0
SHORT_DUTY_A_PER_MM2 = 10.0


def awg_diameter_mm(awg: int) -> float:
    """Return the diameter of a solid AWG wire (ASTM B258).

    Parameters
    ----------
    awg : int
        Gauge number; 0 is 1/0, -1 is 2/0, -3 is 4/0.

    Returns
    -------
    float
        Millimetres; gauge 36 is 0.005 inch and 39 steps further is 0.46 inch.

    Examples
    --------
    >>> awg_diameter_mm(36)
    0.127
    >>> round(awg_diameter_mm(-3) / 25.4, 4)
    0.46
    """
    return float(0.127 * 92.0 ** ((36 - awg) / 39))


def awg_area_mm2(awg: int) -> float:
    """Return the metal area of a solid AWG wire.

    Examples
    --------
    >>> round(awg_area_mm2(16), 3)
    1.309
    """
    return math.pi / 4 * awg_diameter_mm(awg) ** 2


def awg_circular_mils(awg: int) -> float:
    """Return the area in circular mils: thousandths of an inch, squared.

    Examples
    --------
    >>> round(awg_circular_mils(36))
    25
    """
    return (awg_diameter_mm(awg) / 0.0254) ** 2


def ohms_per_metre(area_mm2: float) -> float:
    """Return the most that a class 5 copper conductor has at 20 °C.

    Parameters
    ----------
    area_mm2 : float
        Nominal cross-section, above zero.

    Returns
    -------
    float
        Ohms for each metre of one conductor.

    Raises
    ------
    ValueError
        If the area is not a finite number above zero.

    Examples
    --------
    >>> round(ohms_per_metre(1.5), 4)
    0.0133
    >>> round(ohms_per_metre(0.25), 4)  # twice that of 0.5 mm2, off the end
    0.078
    """
    if not (math.isfinite(area_mm2) and area_mm2 > 0):
        raise ValueError(f"a conductor has an area above zero, not {area_mm2!r} mm2")
    return _ohm_mm2_per_metre(area_mm2) / area_mm2


def _ohm_mm2_per_metre(area_mm2: float) -> float:
    """Return ohms a metre times area, by the table's curve."""
    areas = [area for area, _ in CLASS_5_OHMS_PER_KM]
    products = [area * ohms / 1000 for area, ohms in CLASS_5_OHMS_PER_KM]
    above = bisect_right(areas, area_mm2)
    if above == 0:
        return products[0]
    if above == len(areas):
        return products[-1]
    low, high = math.log(areas[above - 1]), math.log(areas[above])
    share = (math.log(area_mm2) - low) / (high - low)
    return products[above - 1] + share * (products[above] - products[above - 1])


def conductor_ohms(area_mm2: float, length_m: float) -> float:
    """Return the metal's resistance at 20 °C, without crimps.

    Examples
    --------
    >>> round(conductor_ohms(1.5, 2.0), 4)
    0.0266
    """
    return ohms_per_metre(area_mm2) * length_m


def uniform_ohms(
    area_mm2: float,
    length_m: float,
    *,
    ohm_mm2_per_m: float = COPPER_OHM_MM2_PER_M,
) -> float:
    """Return resistivity times length over area, for solid metal.

    Parameters
    ----------
    area_mm2, length_m : float
        Square millimetres and metres.
    ohm_mm2_per_m : float
        Resistivity; that of annealed copper at 20 °C unless given (IEC 60028).

    Examples
    --------
    >>> uniform_ohms(1.0, 58.0)
    1.0
    """
    return ohm_mm2_per_m * length_m / area_mm2


def at_temperature(
    ohms_20c: float, celsius: float, *, alpha_per_k: float = COPPER_ALPHA_PER_K
) -> float:
    """Return a resistance known at 20 °C as it is at another temperature.

    Parameters
    ----------
    ohms_20c : float
        Resistance at 20 °C, ohms.
    celsius : float
        The temperature wanted.
    alpha_per_k : float
        Coefficient at 20 °C; that of annealed copper unless given (IEC 60028).

    Examples
    --------
    >>> round(at_temperature(1.0, 60.0), 4)
    1.1572
    """
    return ohms_20c * (1 + alpha_per_k * (celsius - 20))


def factor_to_20c(celsius: float) -> float:
    """Return K of IEC 60228's printed table: R at 20 °C is K times R measured.

    The table follows the annex's rounded form 250 / (230 + t).

    Examples
    --------
    >>> round(factor_to_20c(60), 3)
    0.862
    """
    return 250 / (230 + celsius)


def exact_factor_to_20c(celsius: float) -> float:
    """Return K by the exact form for copper, 254.5 / (234.5 + t).

    Examples
    --------
    >>> round(exact_factor_to_20c(90), 3)
    0.784
    """
    return 254.5 / (234.5 + celsius)


def continuous_amps(area_mm2: float) -> float:
    """Return what a bundled vehicle wire carries all day (common practice, no source).

    Examples
    --------
    >>> continuous_amps(1.5)
    7.5
    """
    return CONTINUOUS_A_PER_MM2 * area_mm2


def short_duty_amps(area_mm2: float) -> float:
    """Return what it carries for short spells (common practice, no source).

    Examples
    --------
    >>> short_duty_amps(1.5)
    15.0
    """
    return SHORT_DUTY_A_PER_MM2 * area_mm2
