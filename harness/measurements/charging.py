"""Battery voltage with the engine at fast running: does it charge, and not too much."""

from dataclasses import replace

from harness.measurements.cautions import Caution
from harness.measurements.entries import Input, Readings
from harness.measurements.kinds import Held, Kind, Number, Outcome, excused, hold
from harness.measurements.limits import Conditions, Limit, Verdict
from harness.measurements.sources import (
    Confidence,
    Source,
    Standing,
    practice,
)
from harness.measurements.systems import System

# Below this an old dynamo or alternator need not charge yet (our own judgement).
FAST_RUNNING_RPM = 2500.0
COLDEST, WARMEST = -20.0, 50.0
# Bulk charge of one cell at 25 °C, and how it moves with the battery's temperature.
BULK_CELL_V, TABLE_CELSIUS = 2.40, 25.0
BULK_V_PER_K_CELL = -0.003
BULK_SOURCE = Source(
    "Charging by temperature in a battery-teaching text: 2.40 V a cell at 25 °C, "
    "3 mV less for each kelvin",
    Standing.SECOND_HAND,
    Confidence.MEDIUM,
)
_AT_12V = Limit(
    quantity="Battery voltage at fast running",
    unit="V",
    low=13.5,
    high=14.8,
    fault_below=12.8,
    fault_above=15.0,
    conditions=Conditions(words="lights off", engine_rpm=FAST_RUNNING_RPM),
    source=practice(
        "Rule of the trade: 13.5 to 14.5 V good, up to 14.8 V normal, over 15 V "
        "overcharge",
        Confidence.HIGH,
    ),
)
_AT_6V = replace(
    _AT_12V,
    low=6.75,
    high=7.4,
    fault_below=6.4,
    fault_above=7.5,
    source=practice("Rule of the trade for 6 V bikes, half of that for 12 V"),
)


def bulk_v(celsius: float, system: System) -> float:
    """Return the most that a battery of this temperature wants while it charges.

    Examples
    --------
    >>> round(bulk_v(0.0, System(12, "negative")), 2)
    14.85
    """
    warmer_k = celsius - TABLE_CELSIUS
    return system.cells * (BULK_CELL_V + BULK_V_PER_K_CELL * warmer_k)


def running_limit(system: System) -> Limit:
    """Return what the battery should read with the engine at fast running."""
    known = {6: _AT_6V, 12: _AT_12V}.get(system.volts)
    if known is not None:
        return known
    source = practice(f"{_AT_12V.source.words}; twice that for 24 V")
    return _AT_12V.times(system.share_of_12v, source=source)


def warm_limit(celsius: float, system: System) -> Limit:
    """Return the most that a battery warmer than 25 °C should be given."""
    ordinary = running_limit(system).high or 0.0
    less = bulk_v(TABLE_CELSIUS, system) - bulk_v(celsius, system)
    return Limit(
        quantity="Battery voltage at fast running, warm battery",
        unit="V",
        high=round(ordinary - less, 4),
        conditions=Conditions(celsius=(celsius, celsius)),
        source=BULK_SOURCE,
    )


def bulk_limits(system: System) -> tuple[Limit, ...]:
    """Return what a battery wants at some temperatures, to compare with."""
    return tuple(
        Limit(
            quantity="Bulk charge",
            unit="V",
            high=round(bulk_v(celsius, system), 4),
            conditions=Conditions(celsius=(celsius, celsius)),
            source=BULK_SOURCE,
        )
        for celsius in (0.0, 25.0, 40.0)
    )


def _inputs(system: System) -> tuple[Input, ...]:
    return (
        Input(
            name="running_v",
            label="Volts at fast running",
            unit="V",
            low=0,
            high=1.7 * system.volts,
            mend=f"check the meter's range, that it stands on d.c., and that this is a "
            f"{system.volts} V bike",
            help="At the battery's posts, lights off, once the figure stands still.",
        ),
        Input(
            name="engine_rpm",
            label="Engine speed",
            unit="rpm",
            low=300,
            high=15000,
            mend="give turns a minute",
        ),
        Input(
            name="battery_c",
            label="Temperature of the battery",
            unit="°C",
            low=COLDEST,
            high=WARMEST,
            mend="give the temperature of the battery, not of the engine",
            required=False,
        ),
    )


def _weigh(readings: Readings, system: System) -> Outcome:
    running = Number("running_v", "Running", readings.number("running_v"), "V")
    held = [hold(running, running_limit(system))]
    celsius = readings.maybe("battery_c")
    numbers: tuple[Number, ...] = ()
    if celsius is not None:
        wants = Number(
            "bulk_v", "A battery this warm wants", bulk_v(celsius, system), "V"
        )
        numbers = (wants,)
        if celsius > TABLE_CELSIUS:
            held.append(hold(running, warm_limit(celsius, system)))
    slow = readings.number("engine_rpm") < FAST_RUNNING_RPM
    if slow and _is_low(held[0]):
        held[0] = excused(held[0])
    return Outcome(
        held=tuple(held),
        says=_says(tuple(held)),
        next_step=f"Take it again at {FAST_RUNNING_RPM:g} rpm or more."
        if slow and not _is_high(held[0])
        else _next(tuple(held)),
        numbers=numbers,
        at_best=Verdict.LOOK_FURTHER if slow else Verdict.GOOD,
    )


def _is_low(held: Held) -> bool:
    low = held.limit.low
    return low is not None and held.number.value < low


def _is_high(held: Held) -> bool:
    return held.verdict is not Verdict.GOOD and not _is_low(held)


def _says(held: tuple[Held, ...]) -> str:
    first = held[0]
    if _is_low(first):
        fault = first.verdict is Verdict.FAULT
        return "It does not charge." if fault else "It hardly charges."
    if first.verdict is Verdict.FAULT:
        return "It overcharges: the battery boils and lamps burn out."
    if first.verdict is Verdict.LOOK_FURTHER:
        return "It charges more than it should."
    if _is_high(held[-1]):
        return "It charges, but more than a battery this warm should be given."
    return "It charges as it should."


def _next(held: tuple[Held, ...]) -> str:
    first = held[0]
    if _is_low(first):
        return (
            "Measure the voltage drop of the charging feed and return under load; then "
            "the stator or dynamo, then the regulator."
        )
    if any(_is_high(one) for one in held):
        return (
            "Measure the drop from the regulator's own earth to the battery's earthed "
            "post; if it is in order, set or replace the regulator."
        )
    return (
        "Switch the headlamp on: the volts should still stand above the rest voltage."
    )


CHARGING = Kind(
    name="charging",
    title="Charging voltage",
    tells="Whether the bike charges its battery, and not too much.",
    steps=(
        "Battery charged and sound; put the meter on its posts, on d.c. volts.",
        "Start the engine, lights off, and bring it to 2,500 rpm or more.",
        "Read the volts once they stand still, and note the engine speed.",
    ),
    cautions_kept=(Caution.ENGINE_RUNNING, Caution.BATTERY, Caution.HOT_PARTS),
    inputs_for=_inputs,
    limits_for=lambda system: (running_limit(system),),
    weigh=_weigh,
    references_for=bulk_limits,
)
