"""The prior of a fault hunt: rates of one harness, and what they come to in log space.

Faults are independent: each has its own odds, and those of several at once multiply.
So the log prior of a pair is the sum of those of its faults and of one number, the same
for every pair (`beside_log_odds`); of three faults, the sum and twice that number.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import isfinite, log
from types import MappingProxyType

import numpy as np

from harness.circuit import FloatArray
from harness.errors import HarnessError, Problem
from harness.faults import single_faults
from harness.model import Harness
from harness.priors.circumstances import NEUTRAL, Circumstances
from harness.priors.learning import NOTHING_LEARNED, Learned
from harness.priors.posterior import learned_rates
from harness.priors.rates import RATES, ROW_OF
from harness.priors.segment_kinds import kind_of_segment, places_of_segment
from harness.priors.shares import variant_shares
from harness.segments import Mode, segments_of

# The chance that nothing is wrong, before the complaint is heard.
NOTHING_WRONG = 0.02
# How many further faults to expect on the rest of an old loom that has one: at 0.12,
# about one such loom in eighteen comes in with two (common practice, no source).
FURTHER_FAULTS = 0.12
# A prior of more would no longer be of faults that come singly or in pairs.
FURTHER_FAULTS_AT_MOST = 0.5

Rates = Mapping[tuple[str, Mode], float]


@dataclass(frozen=True)
class Priors:
    """How likely everything is that can be wrong with one harness.

    Attributes
    ----------
    rates : mapping of (segment, mode) to float
        Relative; of every mode of every segment.
    nothing_wrong : float
        Probability that nothing is.
    further_faults : float
        How many more faults to expect beside any one.
    learned_repairs : float
        How many confirmed repairs the rates have learned from.

    Raises
    ------
    HarnessError
        When a rate is not a positive number, or one of the others out of its range.
    """

    rates: Rates
    nothing_wrong: float = NOTHING_WRONG
    further_faults: float = FURTHER_FAULTS
    learned_repairs: float = 0.0

    def __post_init__(self) -> None:
        """Refuse what is no prior; keep the rates from being changed later."""
        problems = tuple(self._problems())
        if problems:
            raise HarnessError(problems)
        object.__setattr__(self, "rates", MappingProxyType(dict(self.rates)))

    def _problems(self) -> Iterator[Problem]:
        for (segment, mode), rate in self.rates.items():
            if not (isfinite(rate) and rate > 0):
                where = f"priors of {segment}, {mode}"
                yield Problem(f"{rate} is no rate", where, "give more than 0")
        if not 0 < self.nothing_wrong < 1:
            what = f"{self.nothing_wrong} is no chance that nothing is wrong"
            yield Problem(what, "nothing_wrong", "give more than 0 and less than 1")
        if not 0 < self.further_faults <= FURTHER_FAULTS_AT_MOST:
            what = f"{self.further_faults} further faults are out of range"
            mend = f"give more than 0 and at most {FURTHER_FAULTS_AT_MOST}"
            yield Problem(what, "further_faults", mend)

    @classmethod
    def of(
        cls,
        h: Harness,
        *,
        circumstances: Circumstances = NEUTRAL,
        learned: Learned = NOTHING_LEARNED,
        rates: Rates = MappingProxyType({}),
    ) -> "Priors":
        """Return the priors of a harness, from the table and what else is known.

        Parameters
        ----------
        h : Harness
        circumstances : Circumstances, optional
            Age, wear and exposure; they scale what was learned.
        learned : Learned, optional
            From the shop's confirmed repairs; it takes the place of the table's rates.
        rates : mapping of (segment, mode) to float, optional
            Of one's own; they replace all others of those segments and modes.

        Raises
        ------
        HarnessError
            When the exposure or the rates name what the harness does not have, or a
            rate is not a positive number.
        """
        problems = (*_unknown_places(h, circumstances), *_unknown_keys(h, rates))
        if problems:
            raise HarnessError(problems)
        can_happen = {(f.segment, f.mode) for f in single_faults(h)}
        table = {k: r for k, r in default_rates(h).items() if k in can_happen}
        told = default_rates(h) | learned_rates(h, table, learned)
        scaled = {key: r * _times(h, key, circumstances) for key, r in told.items()}
        further = FURTHER_FAULTS * circumstances.further_times
        return cls(
            {**scaled, **rates},
            further_faults=min(further, FURTHER_FAULTS_AT_MOST),
            learned_repairs=learned.repairs,
        )


@lru_cache(maxsize=32)
def default_rates(h: Harness) -> dict[tuple[str, Mode], float]:
    """Return the table's rate of each segment and mode."""
    return {
        (s.name, mode): RATES[kind_of_segment(h, s)][mode]
        for s in segments_of(h).values()
        for mode in s.modes
    }


def priors_from(h: Harness, given: Priors | Rates | None = None) -> Priors:
    """Return priors as given, or the defaults with the rates given put in.

    Raises
    ------
    HarnessError
        When they are of another harness, or a rate is not a positive number.
    """
    if not isinstance(given, Priors):
        return Priors.of(h, rates=given or {})
    problems = (*_unknown_keys(h, given.rates), *_lacking_keys(h, given.rates))
    if problems:
        raise HarnessError(problems)
    return given


def log_priors(h: Harness, rates: Priors | Rates | None = None) -> FloatArray:
    """Return the log prior of no fault, then of every single fault.

    Parameters
    ----------
    h : Harness
    rates : Priors, or mapping of (segment, mode) to float, optional
        A mapping replaces the defaults of those segments and modes.

    Returns
    -------
    ndarray of float, shape (1 + n_faults,)
        Normalised; order of `faults.single_faults`.
    """
    priors = priors_from(h, rates)
    of_modes = [priors.rates[f.segment, f.mode] for f in single_faults(h)]
    weights = np.array(of_modes) * variant_shares(h)
    weights *= (1.0 - priors.nothing_wrong) / weights.sum()
    out: FloatArray = np.log(np.concatenate([[priors.nothing_wrong], weights]))
    return out


def beside_log_odds(h: Harness, rates: Priors | Rates | None = None) -> float:
    """Return what a further fault adds to the sum of the log priors of several.

    The log prior of faults i and j together is that of i, that of j and this number
    (to be normalised over whatever is considered): beside one fault, each other has its
    share of the further faults expected.
    """
    priors = priors_from(h, rates)
    return log(priors.further_faults / (1.0 - priors.nothing_wrong))


def _times(h: Harness, key: tuple[str, Mode], circumstances: Circumstances) -> float:
    segment = segments_of(h)[key[0]]
    cause = ROW_OF[kind_of_segment(h, segment), key[1]].cause
    return circumstances.times(cause, places_of_segment(h, segment))


def _unknown_places(h: Harness, circumstances: Circumstances) -> Iterator[Problem]:
    for place in circumstances.exposure:
        if place not in h.places:
            mend = f"name one it has: {', '.join(h.places) or 'it has none'}"
            where = f"exposure.{place}"
            yield Problem("this harness has no such place", where, mend)


def _unknown_keys(h: Harness, rates: Rates) -> Iterator[Problem]:
    for segment, mode in rates.keys() - default_rates(h).keys():
        where = f"priors of {segment}, {mode}"
        what = "this harness has no such segment, or it cannot go bad like that"
        yield Problem(what, where, "leave it out, or name it as `segments` does")


def _lacking_keys(h: Harness, rates: Rates) -> Iterator[Problem]:
    for segment, mode in default_rates(h).keys() - rates.keys():
        where = f"priors of {segment}, {mode}"
        yield Problem("no rate is given", where, "make them with Priors.of")
