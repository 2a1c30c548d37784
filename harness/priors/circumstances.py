"""What is known about the bike before anything is tested: age, wear, exposure.

Each word acts on the causes of faults by a factor from one table; whatever is not
named keeps its rate. Our own judgement: common practice, no source.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from math import isfinite
from types import MappingProxyType
from typing import Literal, get_args

from harness.errors import HarnessError, Problem
from harness.priors.rates import Cause

Age = Literal["new", "settled", "old", "very old"]
Wear = Literal["little", "usual", "heavy"]
Exposure = Literal["dry", "usual", "wet", "hot", "flexing"]
WEARS: tuple[Wear, ...] = get_args(Wear)
EXPOSURES: tuple[Exposure, ...] = get_args(Exposure)

# Years from which a loom is called so. The table of rates is for an old one.
AGES: tuple[tuple[float, Age], ...] = (
    (60.0, "very old"),
    (20.0, "old"),
    (5.0, "settled"),
    (0.0, "new"),
)
OLDEST_YEARS = 150.0


@dataclass(frozen=True, slots=True)
class Factor:
    """One row: under a word, faults of a cause come so many times as often."""

    word: Age | Wear | Exposure
    cause: Cause
    times: float
    reason: str


AGE_TABLE: tuple[Factor, ...] = (
    Factor("new", "corroding", 0.3, "Terminals are bright, but not all crimped well."),
    Factor("new", "breaking", 0.3, "Strands have not been bent often."),
    Factor("new", "chafing", 0.3, "Insulation is supple, unless badly routed."),
    Factor("settled", "corroding", 0.6, "Tin still covers most of the brass."),
    Factor("settled", "breaking", 0.7, "Bends are stiffening, not yet brittle."),
    Factor("settled", "chafing", 0.6, "Covering is worn in few places."),
    Factor("very old", "corroding", 1.3, "Plating is gone and crimps have let go."),
    Factor("very old", "breaking", 1.3, "Copper has hardened where it bends."),
    Factor("very old", "chafing", 2.0, "Rubber and cotton crumble at a touch."),
)
WEAR_TABLE: tuple[Factor, ...] = (
    Factor("little", "wearing", 0.5, "Few switchings, few engine hours."),
    Factor("little", "breaking", 0.7, "Little steering and shaking behind it."),
    Factor("little", "chafing", 0.7, "Little has rubbed."),
    Factor("heavy", "wearing", 2.0, "Contacts, brushes and springs are worn down."),
    Factor("heavy", "breaking", 1.5, "Years of vibration work the strands."),
    Factor("heavy", "chafing", 1.5, "What could rub has rubbed."),
    Factor("heavy", "corroding", 1.2, "Caps are lost and seals were left off."),
)
EXPOSURE_TABLE: tuple[Factor, ...] = (
    Factor("dry", "corroding", 0.5, "Without water copper stays bright for decades."),
    Factor("wet", "corroding", 3.0, "Road water and salt get into every contact."),
    Factor("wet", "breaking", 1.3, "Strands rot through where water creeps in."),
    Factor("hot", "chafing", 2.0, "Heat hardens insulation until it cracks."),
    Factor("hot", "burning", 1.5, "Windings and semiconductors age with heat."),
    Factor("hot", "corroding", 1.3, "Heat loosens crimps and drives oxide."),
    Factor("flexing", "breaking", 4.0, "Every turn of the bars bends the strands."),
    Factor("flexing", "chafing", 2.5, "What moves rubs on its neighbours."),
)


@dataclass(frozen=True, slots=True)
class Further:
    """One row: under a word, so many times as many further faults are expected."""

    word: Age | Wear
    times: float
    reason: str


FURTHER_TABLE: tuple[Further, ...] = (
    Further("new", 0.5, "A new loom has few things wrong at a time."),
    Further("settled", 0.7, "Most of it has not begun to fail."),
    Further("very old", 1.5, "What let go in one place has aged in all."),
    Further("little", 0.8, "Little use leaves little worn."),
    Further("heavy", 1.5, "A neglected bike has more than one thing wrong."),
)


@dataclass(frozen=True)
class Circumstances:
    """What is known of a bike; everything is optional, and the default changes nothing.

    Attributes
    ----------
    age_years : float or None
        Age of the loom, not of the bike; None is an old one.
    wear : {"little", "usual", "heavy"}
    exposure : mapping of place id to {"dry", "usual", "wet", "hot", "flexing"}
        Places that are not named are usual.

    Raises
    ------
    HarnessError
        When a word is not one of these, or the age is none a bike can have.
    """

    age_years: float | None = None
    wear: Wear = "usual"
    exposure: Mapping[str, Exposure] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Refuse what cannot be; keep the exposure from being changed later."""
        problems = tuple(self._problems())
        if problems:
            raise HarnessError(problems)
        object.__setattr__(self, "exposure", MappingProxyType(dict(self.exposure)))

    def _problems(self) -> Iterable[Problem]:
        years = self.age_years
        if years is not None and not (isfinite(years) and 0 <= years <= OLDEST_YEARS):
            mend = f"give years from 0 to {OLDEST_YEARS:g}, or leave it out"
            yield Problem(f"{years} is no age of a loom", "age_years", mend)
        if self.wear not in WEARS:
            mend = f"use one of: {', '.join(WEARS)}"
            yield Problem(f"{self.wear!r} is no word for wear", "wear", mend)
        for place, word in self.exposure.items():
            if word not in EXPOSURES:
                mend = f"use one of: {', '.join(EXPOSURES)}"
                where = f"exposure.{place}"
                yield Problem(f"{word!r} is no word for exposure", where, mend)

    @property
    def age(self) -> Age:
        """The word for the age."""
        if self.age_years is None:
            return "old"
        return next(word for years, word in AGES if self.age_years >= years)

    def times(self, cause: Cause, places: Iterable[str] = ()) -> float:
        """Return how many times as often a cause acts, on what sits in these places.

        What runs between two places fails in the worse of them.
        """
        worst = max(
            (
                _factor(EXPOSURE_TABLE, self.exposure.get(place, "usual"), cause)
                for place in places
            ),
            default=1.0,
        )
        general = _factor(AGE_TABLE, self.age, cause)
        return worst * general * _factor(WEAR_TABLE, self.wear, cause)

    @property
    def further_times(self) -> float:
        """How many times as many further faults are to be expected."""
        by_word = {row.word: row.times for row in FURTHER_TABLE}
        return by_word.get(self.age, 1.0) * by_word.get(self.wear, 1.0)


def _factor(table: tuple[Factor, ...], word: str, cause: Cause) -> float:
    rows = (row.times for row in table if (row.word, row.cause) == (word, cause))
    return next(rows, 1.0)


NEUTRAL = Circumstances()
