"""How many volts a stretch may use up under load, stretch by stretch, for 12 V.

Where two habits of the trade differ, both stand, each under its own stretch; the
handbook's limits are for a whole circuit, feed and return together.
"""

from dataclasses import dataclass

from harness.measurements.entries import Choice
from harness.measurements.limits import GREY_SHARE, Conditions, Limit
from harness.measurements.sources import (
    Confidence,
    Source,
    Standing,
    practice,
)
from harness.measurements.systems import System

# What a meter on its 20 V range can tell from nothing.
LAST_DIGIT_V = 0.01

_TRADE = practice(
    "Voltage-drop limits of the trade: earth side 0.1, wire or cable 0.2, switch 0.3, "
    "starter cable 0.5 V",
    Confidence.HIGH,
)
_BOOK = practice(
    "Limits that an independent repair book ascribes to the SAE; the paper was not "
    "found"
)
_SERVICE = practice("Starter and charging limits of service articles")
_HANDBOOK = Source(
    "Automotive Handbook, permissible voltage drop of a whole circuit",
    Standing.FROM_MEMORY,
    Confidence.MEDIUM,
)


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch that a voltage drop is measured over."""

    name: str
    label: str
    most_v: float
    source: Source


STRETCHES = (
    Stretch("earth-side", "Earth side, consumer's body to earthed post", 0.1, _TRADE),
    Stretch("cable", "One wire or cable, end to end", 0.2, _TRADE),
    Stretch("switch", "Across a closed switch", 0.3, _TRADE),
    Stretch("starter-cable", "Starter cable in all", 0.5, _TRADE),
    Stretch("small-joint", "Across a small joint", 0.0, _BOOK),
    Stretch("heavy-joint", "Across a joint that carries a high current", 0.1, _BOOK),
    Stretch("heavy-cable", "Cable that carries a high current", 0.2, _BOOK),
    Stretch("solenoid", "Across a solenoid's contacts", 0.3, _BOOK),
    Stretch("starter-feed", "Whole feed side of the starter", 0.6, _SERVICE),
    Stretch("starter-return", "Whole return side of the starter", 0.3, _SERVICE),
    Stretch("charging-feed", "Whole feed side of the charging", 0.5, _SERVICE),
    Stretch("charging-return", "Whole return side of the charging", 0.2, _SERVICE),
    Stretch("small-lamps", "Whole circuit of small lamps", 0.6, _HANDBOOK),
    Stretch("large-lamps", "Whole circuit of a lamp over 15 W", 0.9, _HANDBOOK),
    Stretch("headlamp", "Whole circuit of a headlamp", 0.6, _HANDBOOK),
    Stretch("charge-lead", "Charge lead", 0.4, _HANDBOOK),
    Stretch("starter-lead", "Starter main lead", 0.5, _HANDBOOK),
    Stretch("solenoid-control", "Control circuit of a solenoid", 1.5, _HANDBOOK),
)
CHOICES = tuple(Choice(stretch.name, stretch.label) for stretch in STRETCHES)
_BY_NAME = {stretch.name: stretch for stretch in STRETCHES}


def drop_limit(stretch_name: str, system: System) -> Limit:
    """Return how many volts a stretch may use up under load.

    A limit of nothing at all is held as the last digit of the meter.

    Examples
    --------
    >>> drop_limit("earth-side", System(6, "positive")).high
    0.05
    """
    stretch = _BY_NAME[stretch_name]
    most_v = max(stretch.most_v * system.share_of_12v, LAST_DIGIT_V)
    fault_v = most_v * GREY_SHARE if stretch.most_v else 10 * LAST_DIGIT_V
    return Limit(
        quantity=f"Voltage drop, {stretch.label[0].lower()}{stretch.label[1:]}",
        unit="V",
        high=round(most_v, 4),
        fault_above=round(max(fault_v, most_v), 4),
        conditions=Conditions(words="under its full load"),
        source=_scaled(stretch.source, system),
    )


def _scaled(source: Source, system: System) -> Source:
    if system.share_of_12v == 1:
        return source
    if system.share_of_12v < 1:
        return practice(f"{source.words}; halved for 6 V by habit of the trade")
    return Source(
        f"{source.words}; doubled for 24 V, the same share of the volts",
        Standing.WORKED_OUT,
        Confidence.MEDIUM,
    )
