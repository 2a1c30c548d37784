"""What an odometer showed, and what its figures add up to."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from enum import StrEnum

from shop.domain.entries import TextRule, clean_member
from shop.domain.money import ZERO, fits_minor_unit
from shop.domain.refusals import Refusal

MOST_DISTANCE = Decimal(10_000_000)
# International yard and pound agreement, 1959: one mile is 1.609344 km exactly.
KM_A_MILE = Decimal("1.609344")
_NAMED = {"km": "kilometres", "miles": "miles"}


class OdometerUnit(StrEnum):
    """What the instrument counts."""

    KM = "km"
    MILES = "miles"


ODOMETER_UNIT_LABELS: dict[OdometerUnit, str] = {
    OdometerUnit.KM: "km",
    OdometerUnit.MILES: "miles",
}

_REASON = TextRule("reason", "The reason", 200)


@dataclass(frozen=True, slots=True, kw_only=True)
class OdometerEntry:
    """What can be entered about a reading.

    Parameters
    ----------
    distance : Decimal
        As it is shown, in `unit`, to a tenth at most.
    read_on : date or None
        The day; None means today where the shop is.
    reason : str
        Why it does not follow from the readings around it, where it does not.
    """

    distance: Decimal
    unit: str
    read_on: date | None = None
    reason: str = ""

    def checked(self) -> "OdometerEntry":
        """Return the entry tidied.

        Raises
        ------
        Refusal
            ``distance-out-of-range``, ``distance-too-fine`` or an unknown unit.

        Examples
        --------
        >>> OdometerEntry(distance=Decimal("20417"), unit="miles").checked().unit
        'miles'
        """
        if not self.distance.is_finite() or not ZERO <= self.distance < MOST_DISTANCE:
            raise Refusal(
                "distance-out-of-range",
                f"An odometer shows between 0 and {MOST_DISTANCE:,}.",
                "distance",
            )
        if not fits_minor_unit(self.distance, minor_digits=1):
            raise Refusal(
                "distance-too-fine", "Write tenths at most, as 20417.3.", "distance"
            )
        unit = clean_member(OdometerUnit, self.unit, field="unit", name="The unit")
        return replace(self, unit=unit.value, reason=_REASON.clean(self.reason))


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A figure on an instrument, on a day."""

    distance: Decimal
    unit: str
    read_on: date

    @property
    def km(self) -> Decimal:
        """The figure in kilometres."""
        return in_km(self.distance, self.unit)


def in_km(distance: Decimal, unit: str) -> Decimal:
    """Return a distance in kilometres.

    Examples
    --------
    >>> in_km(Decimal(1000), "miles")
    Decimal('1609.344000')
    """
    return distance * KM_A_MILE if unit == OdometerUnit.MILES else distance


def demand_reason(
    entry: OdometerEntry, *, before: Shown | None, after: Shown | None
) -> None:
    """Refuse a figure that runs backwards unless the entry says why.

    Raises
    ------
    Refusal
        ``reading-lower``, ``reading-higher`` or ``unit-changed``.

    Examples
    --------
    >>> last = Shown(distance=Decimal(900), unit="km", read_on=date(1974, 5, 1))
    >>> entry = OdometerEntry(distance=Decimal(12), unit="km")
    >>> demand_reason(entry, before=last, after=None)
    Traceback (most recent call last):
    shop.domain.refusals.Refusal: The bike showed 900 km on 1974-05-01...
    """
    if entry.reason:
        return
    mends = "Look again, or say why, for example: instrument replaced."
    km = in_km(entry.distance, entry.unit)
    if before is not None and before.unit != entry.unit:
        raise Refusal(
            "unit-changed",
            f"So far this bike's odometer counted {_NAMED[before.unit]}. {mends}",
            "reason",
        )
    if before is not None and km < before.km:
        raise Refusal(
            "reading-lower",
            f"The bike showed {shown_words(before)} already. {mends}",
            "reason",
        )
    if after is not None and km > after.km:
        raise Refusal(
            "reading-higher",
            f"The bike showed only {shown_words(after)}, which is later. {mends}",
            "reason",
        )


def shown_words(shown: Shown) -> str:
    """Return a figure with unit and day.

    Examples
    --------
    >>> shown_words(Shown(distance=Decimal("9.0"), unit="km", read_on=date(1974, 5, 1)))
    '9 km on 1974-05-01'
    """
    figure = distance_words(shown.distance, shown.unit)
    return f"{figure} on {shown.read_on.isoformat()}"


def distance_words(distance: Decimal, unit: str) -> str:
    """Return a figure with its unit, without a zero that says nothing.

    Examples
    --------
    >>> distance_words(Decimal("20417.0"), "miles")
    '20417 miles'
    """
    return f"{distance.normalize():f} {unit}"


def known_km(readings: Iterable[Shown]) -> Decimal:
    """Return the kilometres that readings in order of time show to have been ridden.

    A figure below the one before it begins a new count: what was ridden around the
    change of the instrument is not known and adds nothing.

    Examples
    --------
    >>> day = date(1974, 5, 1)
    >>> figures = (900, 1000, 10, 40)
    >>> known_km(
    ...     Shown(distance=Decimal(f), unit="km", read_on=day) for f in figures
    ... )
    Decimal('130')
    """
    ridden = ZERO
    before: Shown | None = None
    for reading in readings:
        if before is not None and before.unit == reading.unit:
            ridden += max(reading.km - before.km, ZERO)
        before = reading
    return ridden
