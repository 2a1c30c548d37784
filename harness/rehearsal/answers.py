"""What a test answers: as a sound instrument shows it, or strayed, or plain wrong."""

from dataclasses import dataclass

import numpy as np
from numpy.random import Generator

from harness.circuit import FloatArray
from harness.findings import EYE_READS, FUSE_READS, LAMP_READS, Finding, Test, is_fuse
from harness.likelihood import (
    AMP_SHARE,
    AMP_WIDTH,
    BLUNDER_CLAMP,
    BLUNDER_METER,
    OHM_LEADS,
    OHM_SHARE,
    WIDEST_A,
    WIDEST_V_RATIO,
    amp_scale,
    amp_width,
    eye_chances,
    fuse_chances,
    lamp_chances,
    ohm_scale,
    volt_width,
)
from harness.model import Harness

# The last figure of a meter's display: far finer than its width.
DISPLAY = {"voltmeter": 0.01, "ohmmeter": 0.1, "ammeter": 0.01}
_FINEST_OHM_FIGURES = 3


@dataclass(frozen=True, slots=True)
class Sound:
    """Instruments that show what is there, to the last figure of their display."""

    def answer(
        self, h: Harness, test: Test, shown: float, random: Generator, *, id_: str
    ) -> tuple[Finding, bool]:
        """Return the finding of a test, and whether it is plain wrong."""
        del random
        return answer(h, test, shown, id_=id_), False


@dataclass(frozen=True, slots=True)
class Slips:
    """Meters that stray by their width, and readings that are now and then plain wrong.

    Attributes
    ----------
    wrong : float
        How often: another word, or any figure in the range.
    """

    wrong: float

    def answer(
        self, h: Harness, test: Test, shown: float, random: Generator, *, id_: str
    ) -> tuple[Finding, bool]:
        """Return the finding of a test, and whether it is plain wrong."""
        slips = bool(random.random() < self.wrong)
        honest = answer(h, test, shown, id_=id_)
        if test.tool in {"test-lamp", "eye"}:
            if not slips:
                return honest, False
            others = [word for word in _words(h, test) if word != honest.reads]
            return Finding(id_, test, others[int(random.integers(len(others)))]), True
        value = _any(h, test, random) if slips else _strayed(test, shown, random)
        return answer(h, test, value, id_=id_), slips


@dataclass(frozen=True, slots=True)
class AsLikely:
    """Readings drawn from the very chances that the engine weighs them by."""

    def answer(
        self, h: Harness, test: Test, shown: float, random: Generator, *, id_: str
    ) -> tuple[Finding, bool]:
        """Return the finding of a test, and whether it is plain wrong."""
        honest = answer(h, test, shown, id_=id_)
        if test.tool in {"test-lamp", "eye"}:
            chances = _chances(h, test, shown)
            word = _words(h, test)[int(random.choice(len(chances), p=chances))]
            return Finding(id_, test, word), word != honest.reads
        blunder = BLUNDER_CLAMP if test.tool == "ammeter" else BLUNDER_METER
        if bool(random.random() < blunder):
            return answer(h, test, _blundered(h, test, shown, random), id_=id_), True
        return answer(h, test, _strayed(test, shown, random), id_=id_), False


Instruments = Sound | Slips | AsLikely


def answer(h: Harness, test: Test, shown: float, *, id_: str = "") -> Finding:
    """Return the finding of a test whose instrument shows a value as it is."""
    if test.tool in {"test-lamp", "eye"}:
        return Finding(
            id_, test, _words(h, test)[int(_chances(h, test, shown).argmax())]
        )
    if np.isinf(shown):
        return Finding(id_, test, "open", shown)
    value = displayed(test, shown)
    return Finding(id_, test, f"{value:g}", value)


def displayed(test: Test, shown: float) -> float:
    """Return a value as the display of a meter has it."""
    step = DISPLAY[test.tool]
    if test.tool == "ohmmeter" and abs(shown) > 1.0:
        figures = int(np.floor(np.log10(abs(shown)))) + 1 - _FINEST_OHM_FIGURES
        step = max(step, 10.0**figures)
    # Adding nothing turns a negative zero into a plain one.
    return round(round(shown / step) * step, 6) + 0.0


def drawn_words(chances: FloatArray, random: Generator) -> np.ndarray:
    """Draw one word for each column of chances, shape (n_words, n)."""
    reached = np.cumsum(chances, axis=0) > random.random(chances.shape[1])
    out: np.ndarray = reached.argmax(axis=0)
    return out


def _words(h: Harness, test: Test) -> tuple[str, ...]:
    if test.tool == "test-lamp":
        return LAMP_READS
    return FUSE_READS if is_fuse(h, test.device) else EYE_READS


def _chances(h: Harness, test: Test, shown: float) -> FloatArray:
    value = np.array([shown])
    if test.tool == "test-lamp":
        return lamp_chances(value, h.volts)[:, 0]
    chances = fuse_chances(value) if is_fuse(h, test.device) else eye_chances(value)
    return chances[:, 0]


def _strayed(test: Test, shown: float, random: Generator) -> float:
    if np.isinf(shown):
        return shown
    stray = float(random.normal())
    if test.tool == "ohmmeter":
        return _ohms_at(float(ohm_scale(np.array(shown))) + stray)
    width = volt_width if test.tool == "voltmeter" else amp_width
    return shown + stray * float(width(np.array([shown]))[0])


def _ohms_at(scaled: float) -> float:
    """Return the ohms at a place on the scale of `ohm_scale`."""
    return float(np.exp(OHM_SHARE * scaled)) - OHM_LEADS / OHM_SHARE


def _any(h: Harness, test: Test, random: Generator) -> float:
    if test.tool == "ohmmeter":
        return float(10.0 ** random.uniform(-1, 5))
    most = 1.1 * h.volts if test.tool == "voltmeter" else 20.0
    return float(random.uniform(-most, most))


def _blundered(h: Harness, test: Test, shown: float, random: Generator) -> float:
    """Return a blunder as the engine expects them: spread evenly over its scale."""
    if test.tool == "voltmeter":
        most = WIDEST_V_RATIO / 2 * h.volts
        return float(random.uniform(-most, most))
    if test.tool == "ammeter":
        most = float(amp_scale(np.array(WIDEST_A)))
        place = float(random.uniform(-most, most))
        return float(np.sign(place) * _amps_at(abs(place)))
    if not np.isinf(shown) and bool(random.random() < 1 / 2):
        return float("inf")
    lowest = float(ohm_scale(np.array(0.0)))
    return _ohms_at(float(random.uniform(lowest, float(ohm_scale(np.array(1e6))))))


def _amps_at(scaled: float) -> float:
    return float(np.expm1(scaled * AMP_SHARE) * AMP_WIDTH / AMP_SHARE)
