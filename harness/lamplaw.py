"""The filament: current goes as voltage to the power 0.55, down to a cold resistance.

Power law of the Standard Handbook for Electrical Engineers, 11th ed., p. 22-8, as cited
(check value L10); the cold resistance of one twelfth of the hot one is the contract's
and lies inside the published 1/10 to 1/15 (L14).
"""

import numpy as np

from harness.circuit import FloatArray

EXPONENT = 0.55
COLD_RATIO = 1 / 12
# The law's resistance has fallen to the cold one at this fraction of rated volts.
COLD_KNEE = COLD_RATIO ** (1 / (1 - EXPONENT))


def secant_s(drop_v: FloatArray, hot_s: FloatArray, rated_v: FloatArray) -> FloatArray:
    """Return current over voltage, in siemens.

    Parameters
    ----------
    drop_v : ndarray of float
        Volts across each filament, of either sign.
    hot_s : ndarray of float
        Conductance at rated volts, S.
    rated_v : ndarray of float
        Rated volts.

    Examples
    --------
    A 21 W 12 V filament at 6 V draws 1.195 A, not the 0.875 A of a resistor (L13):

    >>> x = secant_s(np.array([6.0]), np.array([21 / 144]), np.array([12.0]))
    >>> round(float(x[0] * 6.0), 3)
    1.195
    """
    fraction = np.maximum(np.abs(drop_v) / rated_v, COLD_KNEE)
    return np.asarray(hot_s * fraction ** (EXPONENT - 1.0), dtype=np.float64)


def tangent_s(drop_v: FloatArray, hot_s: FloatArray, rated_v: FloatArray) -> FloatArray:
    """Return the slope of current against voltage, in siemens."""
    secant = secant_s(drop_v, hot_s, rated_v)
    lit = np.abs(drop_v) > COLD_KNEE * rated_v
    return np.where(lit, EXPONENT * secant, secant)
