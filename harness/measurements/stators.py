"""A three-phase stator: whether its phases are alike, at rest and running."""

import math

from harness.measurements.cautions import Caution
from harness.measurements.entries import Input, Readings
from harness.measurements.kinds import Held, Kind, Number, Outcome, hold
from harness.measurements.limits import GREY_SHARE, Conditions, Limit, Verdict
from harness.measurements.meter_leads import LEAD, lead_remarks, less_leads
from harness.measurements.sources import practice
from harness.measurements.systems import System

PAIRS = (("ab", "A to B"), ("bc", "B to C"), ("ca", "C to A"))
ALIKE_PERCENT = 10.0
ALIKE_OHM = 0.1
# A winding reads open to the body; below this something leads there (our own
# judgement; damp alone may read some tens of kilohms).
BODY_FAULT_OHM, BODY_OPEN_OHM = 1e4, 1e6
_SOURCE = practice(
    "Stator checks of service articles: phases within 10 % or 0.1 Ω, typically 0.1 to "
    "1 Ω, each open to the body; a.c. volts within 10 % at equal speed"
)

BALANCE = Limit(
    quantity="Difference between the phases",
    unit="%",
    high=ALIKE_PERCENT,
    fault_above=ALIKE_PERCENT * GREY_SHARE,
    conditions=Conditions(words="or 0.1 Ω, whichever is more; unplugged"),
    source=_SOURCE,
)
RUNNING_BALANCE = Limit(
    quantity="Difference between the phases, running",
    unit="%",
    high=ALIKE_PERCENT,
    fault_above=ALIKE_PERCENT * GREY_SHARE,
    conditions=Conditions(words="all three at the same engine speed; unplugged"),
    source=_SOURCE,
)
TO_BODY = Limit(
    quantity="Winding to body",
    unit="Ω",
    low=BODY_OPEN_OHM,
    fault_below=BODY_FAULT_OHM,
    conditions=Conditions(words="unplugged"),
    source=_SOURCE,
)
TYPICAL = Limit(
    quantity="Each phase, typically",
    unit="Ω",
    low=0.1,
    high=1.0,
    source=_SOURCE,
)


def spread_percent(values: tuple[float, ...]) -> float:
    """Return how far values lie apart, in percent of their mean.

    Examples
    --------
    >>> round(spread_percent((0.95, 1.0, 1.05)), 1)
    10.0
    """
    mean = sum(values) / len(values)
    return 100 * (max(values) - min(values)) / mean if mean else 0.0


def _ohm_inputs(_: System) -> tuple[Input, ...]:
    phases = tuple(
        Input(
            name=f"phase_{pair}_ohm",
            label=f"Phase {label}",
            unit="Ω",
            low=0,
            high=1e9,
            takes_open=True,
            mend="ohms are never negative; give ohms, or open",
        )
        for pair, label in PAIRS
    )
    body = Input(
        name="body_ohm",
        label="Any phase to the body",
        unit="Ω",
        low=0,
        high=1e9,
        takes_open=True,
        mend="ohms are never negative; give ohms, or open",
        help="Should show no path: open.",
    )
    return (*phases, body, LEAD)


def _weigh_ohms(readings: Readings, _: System) -> Outcome:
    names = [f"phase_{pair}_ohm" for pair, _ in PAIRS]
    ohms = tuple(less_leads(readings, name) for name in names)
    body = hold(
        Number("body_ohm", "To the body", readings.number("body_ohm"), "Ω"), TO_BODY
    )
    balance = _balance_of_ohms(ohms)
    unusual = any(TYPICAL.verdict(ohm) is not Verdict.GOOD for ohm in ohms)
    taken_off = readings.maybe(LEAD.name) is not None
    remarks = [*lead_remarks(readings, ohms)]
    if unusual and balance.verdict is Verdict.GOOD:
        remarks.append(
            "0.1 to 1 Ω is typical; compare with the maker's figure for this stator."
        )
    return Outcome(
        held=(balance, body),
        says=_says_ohms(balance, body),
        next_step=_next_ohms(balance, body),
        numbers=tuple(
            Number(name, f"Phase {label}, leads off", ohm, "Ω")
            for (name, (_, label), ohm) in zip(names, PAIRS, ohms, strict=True)
            if taken_off
        ),
        remarks=tuple(remarks),
    )


def _balance_of_ohms(ohms: tuple[float, ...]) -> Held:
    apart = math.inf if math.isinf(max(ohms)) else spread_percent(ohms)
    held = hold(Number("spread_percent", "Phases apart", apart, "%"), BALANCE)
    if max(ohms) - min(ohms) <= ALIKE_OHM + 1e-9:
        return Held(held.number, held.limit, Verdict.GOOD)
    return held


def _says_ohms(balance: Held, body: Held) -> str:
    if body.verdict is Verdict.FAULT:
        return "A winding is chafed through to the body."
    if math.isinf(balance.number.value):
        return "A phase is open."
    if balance.verdict is Verdict.FAULT:
        return "The phases are not alike: turns are shorted, or a joint is bad."
    if Verdict.LOOK_FURTHER in (balance.verdict, body.verdict):
        return "Not quite alike, or a trace of a path to the body."
    return "The phases are alike and open to the body."


def _next_ohms(balance: Held, body: Held) -> str:
    if Verdict.FAULT in (balance.verdict, body.verdict):
        return (
            "Read again at the stator's own ends, past its plug; if it stays so, have "
            "it rewound or replace it."
        )
    if Verdict.LOOK_FURTHER in (balance.verdict, body.verdict):
        return (
            "Clean and dry the plug, take the leads off each reading, and read again."
        )
    return "Measure its a.c. volts running: shorted turns may hide from an ohmmeter."


def _volt_inputs(system: System) -> tuple[Input, ...]:
    phases = tuple(
        Input(
            name=f"phase_{pair}_ac_v",
            label=f"Phase {label}",
            unit="V a.c.",
            low=0,
            high=25 * system.volts,
            mend="check that the meter stands on a.c. volts",
        )
        for pair, label in PAIRS
    )
    speed = Input(
        name="engine_rpm",
        label="Engine speed, the same for all three",
        unit="rpm",
        low=300,
        high=15000,
        mend="give turns a minute",
    )
    return (*phases, speed)


def _weigh_volts(readings: Readings, _: System) -> Outcome:
    volts = tuple(readings.number(f"phase_{pair}_ac_v") for pair, _ in PAIRS)
    dead = max(volts) <= 0
    # No volts at all are not three phases alike but none of them there.
    apart = math.inf if dead else spread_percent(volts)
    held = hold(Number("spread_percent", "Phases apart", apart, "%"), RUNNING_BALANCE)
    said = {
        Verdict.GOOD: "The phases give alike.",
        Verdict.LOOK_FURTHER: "The phases differ a little.",
        Verdict.FAULT: "One phase gives less than the others: turns are shorted or a "
        "joint is bad.",
    }[held.verdict]
    step = {
        Verdict.GOOD: "The stator is sound; go on to regulator and charging leads.",
        Verdict.LOOK_FURTHER: "Take all three again at exactly the same speed.",
        Verdict.FAULT: "Measure the three resistances with the engine off and cool.",
    }[held.verdict]
    return Outcome(
        held=(held,),
        says="It gives nothing at all." if dead else said,
        next_step=step,
        remarks=(f"Taken at {readings.number('engine_rpm'):g} rpm.",),
    )


STATOR_OHMS = Kind(
    name="stator-ohms",
    title="Stator resistance",
    tells="Whether the three windings are alike and none is chafed through.",
    steps=(
        "Engine off and cool; unplug the stator from the regulator.",
        "Hold the meter's leads together and note what they have.",
        "Measure between each two of the three wires, at the stator's side.",
        "Measure from any of them to bare metal of the engine: it should show open.",
    ),
    cautions_kept=(Caution.ISOLATE, Caution.HOT_PARTS),
    inputs_for=_ohm_inputs,
    limits_for=lambda _: (BALANCE, TO_BODY),
    weigh=_weigh_ohms,
    references_for=lambda _: (TYPICAL,),
)
STATOR_VOLTS = Kind(
    name="stator-volts",
    title="Stator a.c. volts",
    tells="Whether the three windings give alike with the engine running.",
    steps=(
        "With the engine off, unplug the stator from the regulator.",
        "Start the engine and hold one speed, such as 3,000 rpm.",
        (
            "Measure a.c. volts between each two of the three wires, at the same "
            "speed, and touch no bare metal of the leads."
        ),
    ),
    cautions_kept=(Caution.ENGINE_RUNNING, Caution.HOT_PARTS),
    inputs_for=_volt_inputs,
    limits_for=lambda _: (RUNNING_BALANCE,),
    weigh=_weigh_volts,
)
