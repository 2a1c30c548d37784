"""Voltage drop of a stretch while its load is on."""

from harness.measurements.cautions import Caution
from harness.measurements.drop_limits import CHOICES, STRETCHES, drop_limit
from harness.measurements.entries import Input, Readings
from harness.measurements.kinds import Held, Kind, Number, Outcome, hold
from harness.measurements.limits import Verdict
from harness.measurements.systems import System

# A stretch that takes this share of the system's volts is open, or all but.
OPEN_SHARE = 0.6


def _inputs(system: System) -> tuple[Input, ...]:
    return (
        Input(name="stretch", label="Measured over", choices=CHOICES),
        Input(
            name="drop_v",
            label="Voltage drop",
            unit="V",
            low=0,
            high=1.3 * system.volts,
            mend="write it without a sign, and check the meter's range and that this "
            f"is a {system.volts} V bike",
            help="Red on the end nearer the feed, black on the end nearer the return.",
        ),
        Input(
            name="load_a",
            label="Current that flowed",
            unit="A",
            low=0.01,
            high=2000,
            mend="switch the load on: with no current a voltage drop tells nothing",
            help="By clamp or from the load's watts; it gives the milliohms.",
            required=False,
        ),
    )


def _weigh(readings: Readings, system: System) -> Outcome:
    drop_v, load_a = readings.number("drop_v"), readings.maybe("load_a")
    held = hold(
        Number("drop_v", "Voltage drop", drop_v, "V"),
        drop_limit(readings.word("stretch"), system),
    )
    numbers: tuple[Number, ...] = ()
    remarks: tuple[str, ...] = ()
    if load_a is not None:
        ohms = Number("stretch_mohm", "Resistance", 1000 * drop_v / load_a, "mΩ")
        numbers = (ohms,)
    elif held.verdict is Verdict.GOOD:
        remarks = (
            (
                "It is proven only for the current that flowed: see that the load was "
                "really on."
            ),
        )
    return Outcome(
        held=(held,),
        says=_says(held, system),
        next_step=_next(held, system),
        numbers=numbers,
        remarks=remarks,
    )


def _is_open(held: Held, system: System) -> bool:
    return held.number.value >= OPEN_SHARE * system.volts


def _says(held: Held, system: System) -> str:
    if _is_open(held, system):
        return "Nearly all the volts are lost here: it is open, or all but."
    return {
        Verdict.GOOD: "It carries the current that flowed without losing too much.",
        Verdict.LOOK_FURTHER: "A little more is lost than the trade allows.",
        Verdict.FAULT: "Too much is lost: there is a bad contact or a thin wire.",
    }[held.verdict]


def _next(held: Held, system: System) -> str:
    if _is_open(held, system):
        return (
            "Look for a pulled terminal, a broken wire or a contact that never closes."
        )
    return {
        Verdict.GOOD: "Go on to the next stretch.",
        Verdict.LOOK_FURTHER: "Clean and tighten its ends, and measure it again.",
        Verdict.FAULT: "Halve the stretch and measure again, load on, until one joint "
        "or wire is left.",
    }[held.verdict]


DROPS = Kind(
    name="voltage-drop",
    title="Voltage drop under load",
    tells="Whether a stretch can carry what its consumer draws.",
    steps=(
        "Switch the consumer on, so that its full current flows.",
        "Put the meter, on a low range, on the two ends of the stretch, on bare metal.",
        (
            "For an earth side: from the battery's earthed ({earth}) post to the "
            "consumer's own body."
        ),
        "Read the volts while the current flows.",
    ),
    cautions_kept=(
        Caution.BATTERY,
        Caution.STARTER_AS_LOAD,
        Caution.CHARGING_AS_LOAD,
        Caution.HOT_PARTS,
    ),
    inputs_for=_inputs,
    limits_for=lambda system: tuple(
        drop_limit(stretch.name, system) for stretch in STRETCHES
    ),
    weigh=_weigh,
)
