"""Battery under a test load: half the cold-cranking amps for 15 seconds."""

from harness.measurements.cautions import Caution
from harness.measurements.charges import between
from harness.measurements.entries import Input, Readings
from harness.measurements.kinds import Kind, Number, Outcome, hold
from harness.measurements.limits import Conditions, Limit, Verdict
from harness.measurements.sources import (
    Confidence,
    Source,
    Standing,
    practice,
)
from harness.measurements.systems import System

# Degrees Celsius and least volts of a 12 V battery at the end of the 15 seconds.
LEAST_V_AT_12V: tuple[tuple[float, float], ...] = (
    (-18, 8.5),
    (-12, 8.7),
    (-7, 8.9),
    (-1, 9.1),
    (4, 9.3),
    (10, 9.4),
    (16, 9.5),
    (21, 9.6),
)
LOAD_SOURCE = practice(
    "Table of least volts under load by temperature, the same in several vehicle "
    "service texts",
    Confidence.HIGH,
)
COLDEST, WARMEST = -18.0, 50.0
# How far under the table is looked at further first, on 12 V (our own judgement).
GREY_V = 0.3
# Share of half the rating that the load must reach to be the test of the table.
LOAD_SHARE = 0.9
RATING_SOURCE = Source(
    "Cold-cranking ratings of SAE J537, EN 50342-1 and DIN 43539-2; the three are not "
    "interchangeable",
    Standing.SECOND_HAND,
    Confidence.MEDIUM,
)


def least_loaded_v(celsius: float, system: System) -> float:
    """Return the least volts of a sound battery at the end of a load test.

    Examples
    --------
    >>> least_loaded_v(10.0, System(12, "negative"))
    9.4
    """
    return round(between(celsius, LEAST_V_AT_12V) * system.share_of_12v, 4)


def load_limit(celsius: float, system: System) -> Limit:
    """Return the limit of the load test at a temperature of the battery."""
    least = least_loaded_v(celsius, system)
    return Limit(
        quantity="Volts at the end of the load test",
        unit="V",
        low=least,
        fault_below=round(least - GREY_V * system.share_of_12v, 4),
        conditions=Conditions(
            words="half the cold-cranking amps for 15 s", celsius=(celsius, celsius)
        ),
        source=LOAD_SOURCE,
    )


def rating_limits(system: System) -> tuple[Limit, ...]:
    """Return what the ratings themselves promise, to compare with; they never judge."""
    share = system.share_of_12v
    return tuple(
        Limit(
            quantity=f"Volts at the full rated amps, {norm}",
            unit="V",
            low=round(least * share, 4),
            conditions=Conditions(celsius=(-18, -18), words=f"after {seconds} s"),
            source=RATING_SOURCE,
        )
        for norm, least, seconds in (
            ("SAE", 7.2, 30),
            ("EN", 7.5, 10),
            ("DIN", 9.0, 30),
        )
    )


def _inputs(system: System) -> tuple[Input, ...]:
    return (
        Input(
            name="loaded_v",
            label="Volts at the end of the 15 s",
            unit="V",
            low=0,
            high=2.2 * system.cells,
            mend=f"check that the load was on and that this is a {system.volts} V "
            "battery",
            help="At the posts, with the load still on.",
        ),
        Input(
            name="battery_c",
            label="Temperature of the battery",
            unit="°C",
            low=COLDEST,
            high=WARMEST,
            mend="the table goes from -18 °C; bring the battery to room temperature",
        ),
        Input(
            name="load_a",
            label="Load drawn",
            unit="A",
            low=1,
            high=2000,
            mend="give the amperes that the tester drew",
            required=False,
        ),
        Input(
            name="cold_cranking_a",
            label="Cold-cranking amps on the battery",
            unit="A",
            low=10,
            high=2000,
            mend="give the amperes printed on the battery",
            help="Old batteries carry none: leave it empty.",
            required=False,
        ),
    )


def _weigh(readings: Readings, system: System) -> Outcome:
    loaded_v, celsius = readings.number("loaded_v"), readings.number("battery_c")
    held = hold(
        Number("loaded_v", "Under load", loaded_v, "V"), load_limit(celsius, system)
    )
    load_a, rating_a = readings.maybe("load_a"), readings.maybe("cold_cranking_a")
    numbers: tuple[Number, ...] = ()
    slack = False
    if load_a is not None and rating_a is not None:
        share = load_a / rating_a
        numbers = (Number("load_share", "Load, of the rating", 100 * share, "%"),)
        slack = share < LOAD_SHARE / 2
    known = load_a is not None and rating_a is not None
    return Outcome(
        held=(held,),
        says={
            Verdict.GOOD: "The battery holds its volts under load.",
            Verdict.LOOK_FURTHER: "A little under what a sound battery holds.",
            Verdict.FAULT: "The battery gives way under load.",
        }[held.verdict],
        next_step=_next(held.verdict, slack=slack),
        numbers=numbers,
        remarks=()
        if known
        else (
            "The limit is for half the cold-cranking amps; a lighter load flatters.",
        ),
        at_best=Verdict.LOOK_FURTHER if slack else Verdict.GOOD,
    )


def _next(verdict: Verdict, *, slack: bool) -> str:
    if verdict is Verdict.GOOD and slack:
        return "Repeat with half the cold-cranking amps: this load was too light."
    return {
        Verdict.GOOD: "Leave the battery alone and go on with the loom.",
        Verdict.LOOK_FURTHER: "Charge it fully, let it rest, and load it again.",
        Verdict.FAULT: "If it was fully charged, replace the battery; if not, charge "
        "it and load it once more.",
    }[verdict]


LOADING = Kind(
    name="battery-load",
    title="Battery under load",
    tells="Whether the battery can give current: only a loaded reading shows it.",
    steps=(
        "Charge the battery fully and let it rest; read its temperature.",
        "Set the tester to half the cold-cranking amps on the battery.",
        "Load it for 15 seconds and read the volts at the posts just before the end.",
    ),
    cautions_kept=(Caution.BATTERY, Caution.SPARKS, Caution.ACID),
    inputs_for=_inputs,
    limits_for=lambda system: tuple(
        load_limit(celsius, system) for celsius, _ in reversed(LEAST_V_AT_12V)
    ),
    weigh=_weigh,
    references_for=rating_limits,
)
