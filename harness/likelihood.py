"""How likely a reading is, given what an instrument would show.

Every tool has a width (how far an honest reading strays) and a blunder rate (how often
it is plain wrong: the clip on paint, the wrong pin, the wrong range). The numbers are
our own judgement, common practice, no source; they are stated here and nowhere else.

Thresholds are the contract's: a test lamp is lit at 75 % of nominal volts and dark
under 25 %; a consumer works at 85 % of its healthy volts and is dead under 40 %.
"""

import numpy as np

from harness.circuit import FloatArray, IntArray

LAMP_LIT, LAMP_DARK, LAMP_WIDTH = 0.75, 0.25, 0.02
EYE_WORKS, EYE_DEAD, EYE_WIDTH = 0.85, 0.40, 0.008
BLUNDER_LAMP = 0.005
BLUNDER_EYE = 0.004
BLUNDER_METER = 0.005
# The clamp round the wrong wire, the wrong way round, or not set to nothing first.
BLUNDER_CLAMP = 0.01
# Volts: width at zero, and as a share of the volts shown (meter, charge of the battery,
# warmth of the lamps).
VOLT_WIDTH, VOLT_SHARE = 0.02, 0.02
# Ohms: leads and touch, and as a share of the ohms.
OHM_LEADS, OHM_SHARE = 0.15, 0.10
WIDEST_V_RATIO = 2.6
OHM_DECADES = 16.0
# Amperes: a d.c. clamp wanders by its setting to nothing, and by a share of the amps.
AMP_WIDTH, AMP_SHARE = 0.05, 0.03
WIDEST_A = 1000.0


def _step(x: FloatArray, at: float, width: float) -> FloatArray:
    """Return a soft step from 0 below `at` to 1 above it."""
    # A logistic of this scale has the spread of a normal of that width.
    scale = width * np.sqrt(3.0) / np.pi
    out: FloatArray = 1.0 / (1.0 + np.exp(np.clip((at - x) / scale, -60.0, 60.0)))
    return out


def three_way(
    share: FloatArray, *, high: float, low: float, width: float, blunder: float
) -> FloatArray:
    """Return the chances of the high, middle and low word.

    Parameters
    ----------
    share : ndarray of float
        What drives the word, as a share of its full value; NaN where it is unknown,
        which makes each word as likely as another.

    Returns
    -------
    ndarray of float, shape (3, *share.shape)
    """
    upper = _step(share, high, width)
    lower = 1.0 - _step(share, low, width)
    chances = np.stack([upper, np.maximum(1.0 - upper - lower, 0.0), lower])
    chances = (1.0 - blunder) * chances / chances.sum(axis=0) + blunder / 3
    out: FloatArray = np.where(np.isnan(share)[None], 1 / 3, chances)
    return out


def lamp_chances(volts: FloatArray, nominal_v: float) -> FloatArray:
    """Return the chances of lit, dim and dark for volts across a test lamp."""
    return three_way(
        np.abs(volts) / nominal_v,
        high=LAMP_LIT,
        low=LAMP_DARK,
        width=LAMP_WIDTH,
        blunder=BLUNDER_LAMP,
    )


def eye_chances(share: FloatArray) -> FloatArray:
    """Return the chances of works, weak and dead for a share of healthy volts."""
    return three_way(
        share, high=EYE_WORKS, low=EYE_DEAD, width=EYE_WIDTH, blunder=BLUNDER_EYE
    )


def fuse_chances(blown: FloatArray) -> FloatArray:
    """Return the chances of intact and blown; `blown` is from 0 to 1, or NaN."""
    chance = np.where(np.isnan(blown), 0.5, np.clip(blown, 0.0, 1.0))
    chance = BLUNDER_EYE / 2 + (1 - BLUNDER_EYE) * chance
    out: FloatArray = np.stack([1.0 - chance, chance])
    return out


def volt_width(volts: FloatArray) -> FloatArray:
    """Return the width of a voltmeter's reading, in volts."""
    out: FloatArray = VOLT_WIDTH + VOLT_SHARE * np.abs(volts)
    return out


def volt_density(read_v: float, volts: FloatArray, nominal_v: float) -> FloatArray:
    """Return the density of a reading (per volt) for each predicted voltage."""
    stray = BLUNDER_METER / (WIDEST_V_RATIO * nominal_v)
    width = volt_width(volts)
    with np.errstate(under="ignore"):
        bell = np.exp(-0.5 * ((read_v - volts) / width) ** 2)
        bell = bell / (width * np.sqrt(2 * np.pi))
        density = (1.0 - BLUNDER_METER) * bell + stray
    flat = 1.0 / (WIDEST_V_RATIO * nominal_v)
    out: FloatArray = np.where(np.isnan(volts), flat, density)
    return out


def volt_scale(volts: FloatArray) -> FloatArray:
    """Map volts so that a difference of one is about one width anywhere."""
    out: FloatArray = np.sign(volts) * np.log1p(np.abs(volts)) / VOLT_SHARE
    return out


def amp_width(amps: FloatArray) -> FloatArray:
    """Return the width of a clamp's reading, in amperes."""
    out: FloatArray = AMP_WIDTH + AMP_SHARE * np.abs(amps)
    return out


def amp_scale(amps: FloatArray) -> FloatArray:
    """Map amperes so that a difference of one is about one width anywhere."""
    grown = np.log1p(np.abs(amps) * AMP_SHARE / AMP_WIDTH)
    out: FloatArray = np.sign(amps) * grown / AMP_SHARE
    return out


def amp_density(read_a: float, amps: FloatArray) -> FloatArray:
    """Return the density of a clamp's reading (per ampere) for each predicted current.

    Which way the current runs counts. A blunder is spread evenly over `amp_scale`: a
    clamp on the wrong wire reads one of the currents of a bike, small ones oftener.
    """
    widest = 2.0 * float(amp_scale(np.array(WIDEST_A)))
    spread = 1.0 / (widest * float(amp_width(np.array(read_a))))
    width = amp_width(amps)
    with np.errstate(under="ignore"):
        bell = np.exp(-0.5 * ((read_a - amps) / width) ** 2)
        bell = bell / (width * np.sqrt(2 * np.pi))
        density = (1.0 - BLUNDER_CLAMP) * bell + BLUNDER_CLAMP * spread
    out: FloatArray = np.where(np.isnan(amps), spread, density)
    return out


def ohm_scale(ohms: FloatArray) -> FloatArray:
    """Map ohms so that a difference of one is about one width anywhere."""
    out: FloatArray = np.log(np.minimum(ohms, 1e9) + OHM_LEADS / OHM_SHARE) / OHM_SHARE
    return out


def ohm_density(read_ohm: float, ohms: FloatArray) -> FloatArray:
    """Return how likely a reading is for each predicted resistance.

    ``open`` (infinite) is a word of its own; a number has a density on the scale of
    `ohm_scale`, so that the two can be mixed.
    """
    predicted_open = np.isinf(ohms)
    if np.isinf(read_ohm):
        likely = np.where(predicted_open, 1.0 - BLUNDER_METER / 2, BLUNDER_METER / 2)
    else:
        stray = BLUNDER_METER / (OHM_DECADES / OHM_SHARE)
        away = ohm_scale(np.array(read_ohm)) - ohm_scale(
            np.where(predicted_open, 0.0, ohms)
        )
        with np.errstate(under="ignore"):
            bell = np.exp(-0.5 * away**2) / np.sqrt(2 * np.pi)
        likely = np.where(predicted_open, stray, (1.0 - BLUNDER_METER) * bell + stray)
    out: FloatArray = np.where(np.isnan(ohms), 0.5 * OHM_SHARE, likely)
    return out


def share_of_best(
    log_likelihood: FloatArray, rows: IntArray | None = None
) -> FloatArray:
    """Return each row's likelihood as a share of the best row's."""
    pool = log_likelihood if rows is None else log_likelihood[rows]
    out: FloatArray = np.exp(np.clip(log_likelihood - pool.max(), -700.0, 700.0))
    return out
