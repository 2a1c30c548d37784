"""A kind of measurement: what it tells, how it is taken, and how it is judged."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from harness.errors import HarnessError, Problem
from harness.measurements.cautions import Caution, caution_words
from harness.measurements.entries import Input, Readings, readings_from
from harness.measurements.limits import (
    Limit,
    Verdict,
    worst,
    worst_short_of_fault,
)
from harness.measurements.systems import SYSTEM_VOLTS, System


@dataclass(frozen=True, slots=True)
class Number:
    """A number that was read or worked out.

    Attributes
    ----------
    name, label, unit : str
    value : float
        Infinite for an open circuit.
    """

    name: str
    label: str
    value: float
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Entered:
    """A reading as it was taken.

    Attributes
    ----------
    name, label, unit : str
    value : float or str
        A number, infinite for an open circuit, or the name of a choice.
    words : str
        The choice in words; empty for a number.
    """

    name: str
    label: str
    value: float | str
    unit: str = ""
    words: str = ""


@dataclass(frozen=True, slots=True)
class Held:
    """A number held against a limit."""

    number: Number
    limit: Limit
    verdict: Verdict


def hold(number: Number, limit: Limit) -> Held:
    """Hold a number against a limit of the same unit."""
    return Held(number, limit, limit.verdict(number.value))


def excused(held: Held) -> Held:
    """Make no fault of a number whose limit was not met in its conditions."""
    return Held(held.number, held.limit, worst_short_of_fault(held.verdict))


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What a kind makes of its readings.

    Attributes
    ----------
    held : tuple of Held
        Never empty; the gravest of them decides.
    says : str
        What the numbers mean, in one sentence.
    next_step : str
        What to do now, in one sentence.
    numbers : tuple of Number
        Worked out beside what was held: charge, milliohms, hours.
    remarks : tuple of str
        What takes from, or adds to, the judgement.
    at_best : Verdict
        Look further where a condition of the limit was not met.
    """

    held: tuple[Held, ...]
    says: str
    next_step: str
    numbers: tuple[Number, ...] = ()
    remarks: tuple[str, ...] = ()
    at_best: Verdict = Verdict.GOOD


@dataclass(frozen=True, slots=True, kw_only=True)
class Judgement:
    """A reading judged, ready to be shown or kept.

    Attributes
    ----------
    kind, title : str
    system : System
    verdict : Verdict
    says, next_step : str
    entered : tuple of Entered
        The readings as they were taken, less those left out.
    numbers : tuple of Number
        What was worked out from them.
    held : tuple of Held
        Each number with the limit that it was held against.
    limit : Limit
        The one that decided.
    remarks, cautions : tuple of str
    """

    kind: str
    title: str
    system: System
    verdict: Verdict
    says: str
    next_step: str
    entered: tuple[Entered, ...]
    numbers: tuple[Number, ...]
    held: tuple[Held, ...]
    limit: Limit
    remarks: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def source(self) -> str:
        """Where the limit that decided comes from, with its standing."""
        return self.limit.source.sentence


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One kind of measurement, for a list or a form.

    Attributes
    ----------
    name, title : str
    tells : str
        What it is taken for, in one sentence.
    steps : tuple of str
        What to do, in order; ``{earth}`` stands for the earthed pole, ``{volts}`` for
        the nominal volts.
    cautions_kept : tuple of Caution
    inputs_for, limits_for : callable of System
    weigh : callable of Readings and System
    references_for : callable of System
        Limits to know beside those that judge.
    systems : tuple of int
        Nominal volts that it has limits for.
    """

    name: str
    title: str
    tells: str
    steps: tuple[str, ...]
    cautions_kept: tuple[Caution, ...]
    inputs_for: Callable[[System], tuple[Input, ...]]
    limits_for: Callable[[System], tuple[Limit, ...]]
    weigh: Callable[[Readings, System], Outcome]
    references_for: Callable[[System], tuple[Limit, ...]] = lambda _: ()
    systems: tuple[int, ...] = SYSTEM_VOLTS

    def inputs(self, system: System) -> tuple[Input, ...]:
        """Return what is entered.

        Raises
        ------
        HarnessError
            When there is no limit for these volts.
        """
        self._demand(system)
        return self.inputs_for(system)

    def limits(self, system: System) -> tuple[Limit, ...]:
        """Return the limits that a reading may be held against; see `inputs`."""
        self._demand(system)
        return self.limits_for(system)

    def references(self, system: System) -> tuple[Limit, ...]:
        """Return the limits to know beside those; see `inputs`."""
        self._demand(system)
        return self.references_for(system)

    def steps_on(self, system: System) -> tuple[str, ...]:
        """Return what to do, with this system's pole and volts in it."""
        return tuple(
            step.format(earth=system.earth, volts=system.volts) for step in self.steps
        )

    def cautions(self, system: System) -> tuple[str, ...]:
        """Return what to heed, the gravest first."""
        return tuple(
            caution_words(caution, earth=system.earth) for caution in self.cautions_kept
        )

    def judge(self, given: Mapping[str, object], system: System) -> Judgement:
        """Judge the readings entered.

        Raises
        ------
        HarnessError
            When they cannot be true, with every problem.
        """
        readings = readings_from(self.inputs(system), given)
        outcome = self.weigh(readings, system)
        verdicts = tuple(held.verdict for held in outcome.held)
        gravest = worst(verdicts)
        return Judgement(
            kind=self.name,
            title=self.title,
            system=system,
            verdict=worst((gravest, outcome.at_best)),
            says=outcome.says,
            next_step=outcome.next_step,
            entered=_entered(self.inputs(system), readings),
            numbers=outcome.numbers,
            held=outcome.held,
            limit=outcome.held[verdicts.index(gravest)].limit,
            remarks=outcome.remarks,
            cautions=self.cautions(system),
        )

    def _demand(self, system: System) -> None:
        if system.volts not in self.systems:
            given = " or ".join(f"{volts} V" for volts in self.systems)
            what = f"no limit is known for {self.title.lower()} at {system.volts} V"
            mend = f"it is there for {given}; compare with the maker's figures"
            raise HarnessError((Problem(what, self.name, mend),))


def _entered(inputs: tuple[Input, ...], readings: Readings) -> tuple[Entered, ...]:
    found = []
    for item in inputs:
        number, word = readings.maybe(item.name), readings.words.get(item.name)
        if number is not None:
            found.append(Entered(item.name, item.label, number, item.unit))
        if word is not None:
            said = item.choice_label(word)
            found.append(Entered(item.name, item.label, word, words=said))
    return tuple(found)
