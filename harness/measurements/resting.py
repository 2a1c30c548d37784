"""Battery state from its voltage at rest."""

from harness.measurements.cautions import Caution
from harness.measurements.charges import (
    REST_V_AT_12V,
    REST_V_SOURCE,
    Charge,
    charge_of_rest_v,
    gravity_of_rest_v,
)
from harness.measurements.entries import Input, Readings
from harness.measurements.kinds import Held, Kind, Number, Outcome, excused, hold
from harness.measurements.limits import Conditions, Limit, Verdict
from harness.measurements.systems import SYSTEM_VOLTS, System

# Common practice, no source: sooner than this the volts still rise or fall.
RESTED_H = 4.0
# Rest volts rise with warmth by about 0.2 mV a kelvin and cell (from memory, the source
# was not seen): a small matter beside what the tables differ by, but not nothing.
V_PER_K_CELL = 0.0002
TABLE_CELSIUS = 25.0
COLDEST, WARMEST = -20.0, 50.0
# No cell rests above this; just off the charger it may still stand there.
CELL_V_AT_MOST = 2.4
# Makers differ by this much on a 12 V battery.
MAKERS_DIFFER_V = 0.1
# A cell that has given up takes about its own two volts with it.
CELL_V = 2.0
# Charge that a fault hunt can rely on, and charge that counts as flat (our own
# judgement, on the published tables).
GOOD_PERCENT, FLAT_PERCENT = 75.0, 25.0
# Weak acid freezes (from memory, the source was not seen).
FREEZES_BELOW_PERCENT = 50.0


def _volts_at(percent: float, column: int) -> float:
    return next(row[column] for row in REST_V_AT_12V if row[0] == percent)


def rest_limit(system: System) -> Limit:
    """Return the rest voltage of a battery that is charged enough to work with."""
    share = system.share_of_12v
    full = _volts_at(100, 2) + MAKERS_DIFFER_V
    return Limit(
        quantity="Battery voltage at rest",
        unit="V",
        low=round(_volts_at(GOOD_PERCENT, 2) * share, 4),
        high=round(full * share, 4),
        fault_below=round(_volts_at(FLAT_PERCENT, 1) * share, 4),
        conditions=Conditions(
            words="brought to 25 °C", celsius=(COLDEST, WARMEST), rested_h=RESTED_H
        ),
        source=REST_V_SOURCE,
    )


def _inputs(system: System) -> tuple[Input, ...]:
    return (
        Input(
            name="rest_v",
            label="Voltage at the posts",
            unit="V",
            low=0,
            high=CELL_V_AT_MOST * system.cells,
            mend="check the meter's range, the sign, and that this is a "
            f"{system.volts} V bike with a lead-acid battery",
            help="Across the two posts, not the clamps; everything off.",
        ),
        Input(
            name="battery_c",
            label="Temperature of the battery",
            unit="°C",
            low=COLDEST,
            high=WARMEST,
            mend="bring the battery to room temperature and read it again",
        ),
        Input(
            name="rested_h",
            label="Hours since it was charged or used",
            unit="h",
            low=0,
            high=100_000,
            mend="give whole or part hours since the last charge or ride",
        ),
    )


def _weigh(readings: Readings, system: System) -> Outcome:
    read_v = readings.number("rest_v")
    warmer_k = readings.number("battery_c") - TABLE_CELSIUS
    at_25c_v = read_v - V_PER_K_CELL * system.cells * warmer_k
    held = hold(
        Number("rest_v_25c", "Brought to 25 °C", at_25c_v, "V"), rest_limit(system)
    )
    charge = charge_of_rest_v(at_25c_v, cells=system.cells)
    rested = readings.number("rested_h") >= RESTED_H
    return Outcome(
        held=(held if rested else excused(held),),
        says=_says(held, charge, system),
        next_step=_next(held)
        if rested
        else f"Let it stand {RESTED_H:g} h and read it "
        "again: charged or used so lately, the volts say little.",
        numbers=_numbers(at_25c_v, charge, system),
        remarks=_remarks(read_v, readings.number("battery_c"), charge, system),
        at_best=Verdict.GOOD if rested else Verdict.LOOK_FURTHER,
    )


def _numbers(at_25c_v: float, charge: Charge, system: System) -> tuple[Number, ...]:
    gravity = gravity_of_rest_v(at_25c_v, cells=system.cells)
    found = (
        Number("charge_harsh_percent", "Charge, at least", charge.harsh_percent, "%"),
        Number("charge_kind_percent", "Charge, at most", charge.kind_percent, "%"),
    )
    if gravity < 1.0:
        return found
    return (*found, Number("gravity", "Mean gravity, by Vinal's rule", gravity))


def _says(held: Held, charge: Charge, system: System) -> str:
    if _over(held):
        return "Fully charged, with surface charge still on it, or of a sealed kind."
    if held.verdict is Verdict.FAULT and charge.kind_percent <= 0:
        short_of_v = 11.9 * system.share_of_12v - held.number.value
        if CELL_V * 0.5 < short_of_v < CELL_V * 1.5:
            return "About two volts short: flat, or one cell is dead."
        return "Flat, or with dead cells."
    return f"About {charge.words}."


def _next(held: Held) -> str:
    if held.verdict is Verdict.GOOD:
        return (
            "Go on to the load test: a weak battery looks good as long as nothing is "
            "drawn from it."
        )
    if _over(held):
        return "Switch the headlamp on for a minute, wait ten, and read it again."
    if held.verdict is Verdict.FAULT:
        return (
            "Charge it fully, let it rest, read it again and load test it before any "
            "other reading on this bike is relied on."
        )
    return "Charge it fully, let it rest and read it again; then load test it."


def _looks_like(nominal_v: float, read_v: float) -> bool:
    """Return whether a battery of these nominal volts would rest at the reading."""
    return 0.96 * nominal_v <= read_v <= 1.1 * nominal_v


def _over(held: Held) -> bool:
    return held.limit.high is not None and held.number.value > held.limit.high


def _remarks(
    read_v: float, celsius: float, charge: Charge, system: System
) -> tuple[str, ...]:
    found = ["The charge is a span because published tables and makers differ."]
    if celsius < 0 and charge.harsh_percent < FREEZES_BELOW_PERCENT:
        found.append(
            "A flat battery freezes in the cold: look for a bulged case, and thaw it "
            "before it is charged."
        )
    half_v = system.volts / 2
    if half_v in SYSTEM_VOLTS and _looks_like(half_v, read_v):
        found.append(
            f"This is what a {half_v:g} V battery would read: see which one is fitted."
        )
    return tuple(found)


RESTING = Kind(
    name="battery-rest",
    title="Battery at rest",
    tells="How far the battery is charged.",
    steps=(
        "Key off, everything off, and {volts} V on the meter's range.",
        "Let the battery stand for 4 hours or more after a charge or a ride.",
        "Put the meter on the two posts themselves, red on the positive one.",
        "Note the volts, and the temperature of the battery.",
    ),
    cautions_kept=(Caution.BATTERY, Caution.ACID),
    inputs_for=_inputs,
    limits_for=lambda system: (rest_limit(system),),
    weigh=_weigh,
)
