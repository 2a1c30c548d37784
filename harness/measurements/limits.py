"""A limit of the trade: what is good, what wants a further look, what is a fault."""

from dataclasses import dataclass, replace
from enum import StrEnum

from harness.measurements.sources import Source

# A reading that is exactly on a limit is inside it, whatever binary fractions say.
_ON_THE_LIMIT = 1e-9
# A limit of the trade is no knife's edge: what is over it by less than half as much
# again is looked at further before anything is condemned (our own judgement).
GREY_SHARE = 1.5


class Verdict(StrEnum):
    """What a reading says of the thing measured."""

    GOOD = "good"
    LOOK_FURTHER = "look-further"
    FAULT = "fault"

    @property
    def label(self) -> str:
        """The verdict as a technician would say it."""
        return {"good": "Good", "look-further": "Look further", "fault": "Fault"}[self]


_GRAVITY = (Verdict.GOOD, Verdict.LOOK_FURTHER, Verdict.FAULT)


def worst(verdicts: tuple[Verdict, ...]) -> Verdict:
    """Return the gravest of some verdicts.

    Examples
    --------
    >>> worst((Verdict.GOOD, Verdict.FAULT, Verdict.LOOK_FURTHER)).label
    'Fault'
    """
    return max(verdicts, key=_GRAVITY.index)


def worst_short_of_fault(verdict: Verdict) -> Verdict:
    """Return the verdict, or look further in place of a fault."""
    return Verdict.LOOK_FURTHER if verdict is Verdict.FAULT else verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class Conditions:
    """What a limit holds for; None or empty where it does not depend on it.

    Attributes
    ----------
    celsius : tuple of float or None
        Coldest and warmest temperature, in degrees Celsius.
    rested_h : float or None
        Least hours since the battery was charged or used.
    engine_rpm : float or None
        Least engine speed, in turns a minute.
    words : str
        Anything else: what is switched on, for how long.
    """

    celsius: tuple[float, float] | None = None
    rested_h: float | None = None
    engine_rpm: float | None = None
    words: str = ""

    @property
    def sentence(self) -> str:
        """The conditions in one line; empty where there are none.

        Examples
        --------
        >>> Conditions(celsius=(10, 30), words="key off").sentence
        'key off, 10 to 30 °C'
        """
        parts = [self.words] if self.words else []
        if self.celsius is not None:
            cold, warm = self.celsius
            one = f"{plainly(cold)} °C" if cold == warm else f"{cold:g} to {warm:g} °C"
            parts.append(one)
        if self.rested_h is not None:
            parts.append(f"rested {self.rested_h:g} h or more")
        if self.engine_rpm is not None:
            parts.append(f"engine at {plainly(self.engine_rpm)} rpm or more")
        return ", ".join(parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """What a quantity should be; `low` to `high` is good, both ends included.

    Attributes
    ----------
    quantity, unit : str
        Such as ``Volts while cranking`` and ``V``.
    low, high : float or None
        Least and most that is good; None where that side is open.
    fault_below, fault_above : float or None
        Beyond these it is a fault; between them and `low` or `high` look further.
        None where that side never is a fault by itself.
    conditions : Conditions
    source : Source
    """

    quantity: str
    unit: str
    source: Source
    low: float | None = None
    high: float | None = None
    fault_below: float | None = None
    fault_above: float | None = None
    conditions: Conditions = Conditions()

    def __post_init__(self) -> None:
        """Refuse a limit whose ends are out of order."""
        ends = (self.fault_below, self.low, self.high, self.fault_above)
        known = [end for end in ends if end is not None]
        if not known or known != sorted(known):
            raise ValueError(f"the ends of {self.quantity!r} are out of order: {ends}")

    def verdict(self, value: float) -> Verdict:
        """Return what the limit says of a value in its unit.

        Examples
        --------
        >>> from harness.measurements.sources import practice
        >>> limit = Limit(quantity="Drop", unit="V", high=0.1, fault_above=0.15,
        ...               source=practice("trade"))
        >>> [limit.verdict(drop_v).value for drop_v in (0.1, 0.12, 0.2)]
        ['good', 'look-further', 'fault']
        """
        if _under(value, self.fault_below) or _over(value, self.fault_above):
            return Verdict.FAULT
        if _under(value, self.low) or _over(value, self.high):
            return Verdict.LOOK_FURTHER
        return Verdict.GOOD

    def times(self, factor: float, *, source: Source) -> "Limit":
        """Return the limit for a system of `factor` times the volts."""

        def scaled(end: float | None) -> float | None:
            return None if end is None else round(end * factor, 6)

        return replace(
            self,
            low=scaled(self.low),
            high=scaled(self.high),
            fault_below=scaled(self.fault_below),
            fault_above=scaled(self.fault_above),
            source=source,
        )

    @property
    def sentence(self) -> str:
        """What is good, in words, with its conditions.

        Examples
        --------
        >>> from harness.measurements.sources import practice
        >>> Limit(quantity="Drop", unit="V", high=0.1, source=practice("x")).sentence
        'Drop: 0.1 V at most'
        """
        if self.low is not None and self.high is not None:
            span = f"{plainly(self.low)} to {plainly(self.high)} {self.unit}"
        elif self.low is not None:
            span = f"{plainly(self.low)} {self.unit} at least"
        elif self.high is not None:
            span = f"{plainly(self.high)} {self.unit} at most"
        else:
            span = (
                f"a fault beyond {self.fault_below or self.fault_above:g} {self.unit}"
            )
        when = self.conditions.sentence
        said = f"{self.quantity}: {span.strip()}"
        return f"{said} ({when})" if when else said


def plainly(number: float) -> str:
    """Return a number with every figure written out.

    Examples
    --------
    >>> plainly(1e6), plainly(12.45), plainly(-20.0)
    ('1,000,000', '12.45', '-20')
    """
    return f"{number:,.10g}"


def _under(value: float, end: float | None) -> bool:
    return end is not None and value < end - _ON_THE_LIMIT


def _over(value: float, end: float | None) -> bool:
    return end is not None and value > end + _ON_THE_LIMIT
