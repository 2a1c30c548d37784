"""What is entered for a measurement: its inputs, and the readings taken from them.

Everything that is wrong is said in one go. Each input has a span of what can be true at
all; a reading outside it is a slip of range, decimal point or system, and is refused.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from harness.errors import HarnessError, Problem
from harness.measurements.limits import plainly

OPEN_WORD = "open"
# Above this a meter's display counts as open: one megohm.
OPEN_OHM = 1e6


@dataclass(frozen=True, slots=True)
class Choice:
    """One of the words that an input takes."""

    name: str
    label: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """One thing to be entered: a number in a unit, or a word.

    Attributes
    ----------
    name, label, unit : str
        The unit is in the name too: ``rest_v``, Rest voltage, V.
    low, high : float
        What can be true at all; beyond that the reading is refused with `mend`.
    mend : str
        What to look at when it is refused.
    help : str
        One sentence on how to take it.
    required : bool
    takes_open : bool
        Whether ``open`` may be given in place of ohms.
    choices : tuple of Choice
        Not empty for an input of words.
    """

    name: str
    label: str
    unit: str = ""
    low: float = -math.inf
    high: float = math.inf
    mend: str = "check the meter's range and the decimal point"
    help: str = ""
    required: bool = True
    takes_open: bool = False
    choices: tuple[Choice, ...] = ()

    def choice_label(self, name: str) -> str:
        """Return what a choice is called; the name itself where it is none."""
        return {choice.name: choice.label for choice in self.choices}.get(name, name)


@dataclass(frozen=True, slots=True)
class Readings:
    """Readings that can be true: numbers (infinite for open) and words, by input."""

    numbers: Mapping[str, float]
    words: Mapping[str, str]

    def number(self, name: str) -> float:
        """Return a reading that is required."""
        return self.numbers[name]

    def maybe(self, name: str) -> float | None:
        """Return a reading that may be left out."""
        return self.numbers.get(name)

    def word(self, name: str) -> str:
        """Return the word chosen."""
        return self.words[name]


def readings_from(inputs: Iterable[Input], given: Mapping[str, object]) -> Readings:
    """Check what was entered against the inputs.

    Parameters
    ----------
    inputs : iterable of Input
    given : mapping
        Numbers, or texts with a decimal comma or point; empty text is not given.

    Raises
    ------
    HarnessError
        With every problem: unknown, missing, no number, not finite, out of the span.
    """
    known = {item.name: item for item in inputs}
    problems = [
        Problem(f"there is no reading {name!r}", name, f"use {', '.join(known)}")
        for name in sorted(set(given) - set(known))
    ]
    numbers: dict[str, float] = {}
    words: dict[str, str] = {}
    for item in known.values():
        raw = given.get(item.name)
        text = "" if raw is None or isinstance(raw, bool) else str(raw).strip()
        try:
            if item.choices:
                words.update(_chosen(item, text))
            else:
                numbers.update(_measured(item, text))
        except HarnessError as error:
            problems.extend(error.problems)
    if problems:
        raise HarnessError(tuple(problems))
    return Readings(numbers, words)


def refuse(where: str, what: str, mend: str) -> HarnessError:
    """Return the refusal of one reading."""
    return HarnessError((Problem(what=what, where=where, mend=mend),))


def _chosen(item: Input, text: str) -> dict[str, str]:
    names = [choice.name for choice in item.choices]
    if text in names:
        return {item.name: text}
    if not text and not item.required:
        return {}
    what = f"{text!r} is none of the choices" if text else "nothing was chosen"
    raise refuse(item.name, what, f"choose {', '.join(names)}")


def _measured(item: Input, text: str) -> dict[str, float]:
    if not text:
        if not item.required:
            return {}
        raise refuse(item.name, "no reading was given", f"enter {_in_unit(item)}")
    if item.takes_open and text.lower() == OPEN_WORD:
        return {item.name: math.inf}
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        other = ", or open" if item.takes_open else ""
        raise refuse(item.name, f"{text!r} is not a reading", f"enter a number{other}")
    if not item.low <= value <= item.high:
        span = f"{plainly(item.low)} to {plainly(item.high)} {item.unit}".strip()
        given = f"{plainly(value)} {item.unit}".strip()
        what = f"{given} cannot be true, only {span} can"
        raise refuse(item.name, what, item.mend)
    if item.takes_open and value > OPEN_OHM:
        return {item.name: math.inf}
    return {item.name: value}


def _in_unit(item: Input) -> str:
    return f"it in {item.unit}" if item.unit else "a number"
