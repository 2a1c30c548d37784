"""An ignition coil's windings by ohmmeter, which alone prove little."""

import math

from harness.measurements.cautions import Caution
from harness.measurements.entries import Choice, Input, Readings
from harness.measurements.kinds import Held, Kind, Number, Outcome, hold
from harness.measurements.limits import Conditions, Limit, Verdict
from harness.measurements.meter_leads import LEAD, lead_remarks, less_leads
from harness.measurements.sources import Confidence, practice
from harness.measurements.systems import System

_SOURCE = practice(
    "Classes of coil by primary resistance in workshop articles", Confidence.LOW
)
# Class: nominal volts, what it is called, least and most ohms, ohms it is named after.
_CLASSES: tuple[tuple[str, int, str, float, float], ...] = (
    ("points-12v", 12, "Points, 12 V, twin coil (4 Ω class)", 3.0, 5.0),
    ("transistor-12v", 12, "Early transistor set, 12 V (3 Ω class)", 2.5, 3.5),
    ("points-6v", 6, "Points, 6 V", 1.0, 2.0),
)
SECONDARY = Limit(
    quantity="Secondary winding",
    unit="kΩ",
    low=5.0,
    high=20.0,
    conditions=Conditions(words="plug caps taken off"),
    source=_SOURCE,
)
# Of a charged battery, as a share of nominal volts.
CHARGED_SHARE = 1.05


def primary_limit(coil_class: str) -> Limit:
    """Return the resistance of a class of coil; outside it look further.

    The classes are loose and overlap, so no figure but an open winding is a fault.
    """
    low, high = next((row[3], row[4]) for row in _CLASSES if row[0] == coil_class)
    return Limit(
        quantity="Primary winding",
        unit="Ω",
        low=low,
        high=high,
        conditions=Conditions(words="leads off, coil cool"),
        source=_SOURCE,
    )


def primary_amps(primary_ohm: float, battery_v: float) -> float:
    """Return what flows with the key on and the points shut.

    Examples
    --------
    >>> round(primary_amps(4.0, 12.6), 2)
    3.15
    """
    return battery_v / primary_ohm


def _of_system(system: System) -> tuple[tuple[str, int, str, float, float], ...]:
    return tuple(row for row in _CLASSES if row[1] == system.volts)


def _inputs(system: System) -> tuple[Input, ...]:
    return (
        Input(
            name="coil_class",
            label="Kind of coil",
            choices=tuple(Choice(row[0], row[2]) for row in _of_system(system)),
        ),
        Input(
            name="primary_ohm",
            label="Primary winding",
            unit="Ω",
            low=0,
            high=1e9,
            takes_open=True,
            mend="ohms are never negative; give ohms, or open",
        ),
        LEAD,
        Input(
            name="secondary_kohm",
            label="Secondary winding",
            unit="kΩ",
            low=0,
            high=1e6,
            takes_open=True,
            mend="give kilohms, with the plug caps taken off",
            required=False,
        ),
    )


def _weigh(readings: Readings, system: System) -> Outcome:
    ohm = less_leads(readings, "primary_ohm")
    primary = hold(
        Number("primary_ohm", "Primary, leads off", ohm, "Ω"),
        primary_limit(readings.word("coil_class")),
    )
    held = [_open_is_fault(primary)]
    numbers: tuple[Number, ...] = ()
    if math.isfinite(ohm) and ohm > 0:
        amps = primary_amps(ohm, CHARGED_SHARE * system.volts)
        numbers = (Number("primary_a", "Current with the points shut", amps, "A"),)
    secondary_kohm = readings.maybe("secondary_kohm")
    if secondary_kohm is not None:
        second = Number("secondary_kohm", "Secondary", secondary_kohm, "kΩ")
        held.append(_open_is_fault(hold(second, SECONDARY)))
    return Outcome(
        held=tuple(held),
        says=_says(tuple(held)),
        next_step=_next(tuple(held)),
        numbers=numbers,
        remarks=(
            (
                "Resistance alone proves little: a coil that reads well may still "
                "break down hot or under high voltage."
            ),
            *lead_remarks(readings, (ohm,)),
        ),
    )


def _open_is_fault(held: Held) -> Held:
    if math.isinf(held.number.value):
        return Held(held.number, held.limit, Verdict.FAULT)
    return held


def _says(held: tuple[Held, ...]) -> str:
    verdicts = [one.verdict for one in held]
    if Verdict.FAULT in verdicts:
        return "A winding is open."
    if Verdict.LOOK_FURTHER in verdicts:
        return "Outside what coils of this class have."
    return "Within what coils of this class have."


def _next(held: tuple[Held, ...]) -> str:
    verdicts = [one.verdict for one in held]
    if Verdict.FAULT in verdicts:
        return "Read once more on the coil's own terminals; if open, replace the coil."
    if Verdict.LOOK_FURTHER in verdicts:
        return "Compare with the other coil of this bike or the maker's figure."
    return "Go on to its feed: volts at the coil with the points shut and key on."


COILS = Kind(
    name="coil-primary",
    title="Ignition coil",
    tells="Whether a coil's windings are whole.",
    steps=(
        "Key off; pull both low-voltage leads off the coil.",
        "Hold the meter's leads together and note what they have.",
        "Measure between the two low-voltage terminals.",
        "If wanted, take the plug caps off and measure the high-voltage winding.",
    ),
    cautions_kept=(Caution.ISOLATE,),
    inputs_for=_inputs,
    limits_for=lambda system: (
        *(primary_limit(row[0]) for row in _of_system(system)),
        SECONDARY,
    ),
    weigh=_weigh,
    systems=(6, 12),
)
