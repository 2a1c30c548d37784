"""Battery voltage while the starter turns the engine."""

from harness.measurements.cautions import Caution
from harness.measurements.entries import Input, Readings
from harness.measurements.kinds import Kind, Number, Outcome, hold
from harness.measurements.limits import Conditions, Limit, Verdict
from harness.measurements.loading import (
    COLDEST,
    WARMEST,
    least_loaded_v,
    rating_limits,
)
from harness.measurements.sources import practice
from harness.measurements.systems import System

LEAST_V_AT_12V = 9.6
# A starter that turns an engine pulls a battery down below this, on 12 V (our own
# judgement): above it hardly any current flows.
HARDLY_LOADED_V = 12.0


def cranking_limit(celsius: float, system: System) -> Limit:
    """Return the limit while cranking with the battery at a temperature.

    In the cold a sound battery falls lower: it is a fault only below what the load
    test of that temperature allows.
    """
    least = LEAST_V_AT_12V * system.share_of_12v
    return Limit(
        quantity="Battery voltage while cranking",
        unit="V",
        low=round(least, 4),
        fault_below=min(round(least, 4), least_loaded_v(celsius, system)),
        conditions=Conditions(words="starter turning the engine"),
        source=practice(
            "Rule of the trade at ordinary temperature"
            + (
                ""
                if system.share_of_12v == 1
                else f", scaled from 12 V to {system.volts} V"
            )
            + "; in the cold a fault only below the load-test table"
        ),
    )


def _inputs(system: System) -> tuple[Input, ...]:
    return (
        Input(
            name="cranking_v",
            label="Volts while cranking",
            unit="V",
            low=0,
            high=2.3 * system.cells,
            mend="check that the starter was turning and that this is a "
            f"{system.volts} V bike",
            help="At the battery's posts, the lowest steady figure.",
        ),
        Input(
            name="battery_c",
            label="Temperature of the battery",
            unit="°C",
            low=COLDEST,
            high=WARMEST,
            mend="the table goes from -18 °C; bring the bike into the warm",
        ),
    )


def _weigh(readings: Readings, system: System) -> Outcome:
    cranking_v = readings.number("cranking_v")
    limit = cranking_limit(readings.number("battery_c"), system)
    held = hold(Number("cranking_v", "While cranking", cranking_v, "V"), limit)
    idle = cranking_v >= HARDLY_LOADED_V * system.share_of_12v
    if idle:
        says = "The battery is hardly loaded: little current reaches the starter."
        step = (
            "If the engine turns slowly or not at all, measure the voltage drops of "
            "the starter's feed and return."
        )
    else:
        says, step = _SAID[held.verdict]
    return Outcome(
        held=(held,),
        says=says,
        next_step=step,
        remarks=(
            "The reading is taken at the posts: clamps and cables are not in it.",
        ),
        at_best=Verdict.LOOK_FURTHER if idle else Verdict.GOOD,
    )


_SAID = {
    Verdict.GOOD: (
        "The battery holds its volts while the engine turns.",
        (
            "If it still turns slowly, measure the voltage drops of the starter's feed "
            "and return."
        ),
    ),
    Verdict.LOOK_FURTHER: (
        "Low for a warm battery; in this cold it may pass.",
        "Bring the battery to room temperature, charge it fully and crank again.",
    ),
    Verdict.FAULT: (
        "The battery gives way, or the starter draws too much.",
        (
            "Charge and load test the battery; if it is sound, the starter drags or "
            "the engine binds."
        ),
    ),
}

CRANKING = Kind(
    name="cranking",
    title="Cranking voltage",
    tells="Whether battery and starter get on with each other.",
    steps=(
        "Battery charged; put the meter on its posts, on a range above {volts} V.",
        "Earth every plug lead, so that the engine cannot fire and no spark jumps.",
        "Crank for five seconds at most and read the lowest steady figure.",
    ),
    cautions_kept=(Caution.CRANKING, Caution.BATTERY),
    inputs_for=_inputs,
    limits_for=lambda system: (cranking_limit(21, system),),
    weigh=_weigh,
    references_for=rating_limits,
)
