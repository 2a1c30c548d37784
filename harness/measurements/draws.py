"""What is drawn from the battery with everything off."""

from harness.measurements.cautions import Caution
from harness.measurements.entries import Choice, Input, Readings
from harness.measurements.kinds import Kind, Number, Outcome, hold
from harness.measurements.limits import Conditions, Limit, Verdict
from harness.measurements.sources import practice
from harness.measurements.systems import System

NOTHING_FITTED, ELECTRONICS_FITTED = "nothing", "electronics"
_KEY_OFF = Conditions(words="key and everything else off")
_LIMITS = {
    NOTHING_FITTED: Limit(
        quantity="Draw with everything off, no electronics fitted",
        unit="mA",
        high=1.0,
        fault_above=10.0,
        conditions=_KEY_OFF,
        source=practice("Rule of the trade: a bike without electronics draws nothing"),
    ),
    ELECTRONICS_FITTED: Limit(
        quantity="Draw with everything off, electronics fitted",
        unit="mA",
        high=20.0,
        fault_above=50.0,
        conditions=_KEY_OFF,
        source=practice(
            "Rule of the trade for cars: older ones 20 mA, any 50 mA at most"
        ),
    ),
}


def hours_to_half(draw_ma: float, capacity_ah: float) -> float:
    """Return how long a draw takes to empty half of a charged battery.

    Examples
    --------
    >>> hours_to_half(50.0, 14.0)
    140.0
    """
    return capacity_ah * 1000 / 2 / draw_ma


def _inputs(_: System) -> tuple[Input, ...]:
    return (
        Input(
            name="draw_ma",
            label="Current drawn",
            unit="mA",
            low=0,
            high=20_000,
            mend="write it without a sign, in milliamperes: 0.05 A is 50",
            help="Ammeter in the earthed lead, once the figure stands still.",
        ),
        Input(
            name="fitted",
            label="Fitted to the bike",
            choices=(
                Choice(NOTHING_FITTED, "No electronics at all"),
                Choice(
                    ELECTRONICS_FITTED, "Clock, alarm, electronic regulator or such"
                ),
            ),
        ),
        Input(
            name="capacity_ah",
            label="Battery capacity",
            unit="Ah",
            low=0.5,
            high=500,
            mend="give the ampere-hours printed on the battery",
            help="Gives how long the draw takes to empty half of it.",
            required=False,
        ),
    )


def _weigh(readings: Readings, _: System) -> Outcome:
    draw_ma, capacity_ah = readings.number("draw_ma"), readings.maybe("capacity_ah")
    held = hold(
        Number("draw_ma", "Drawn", draw_ma, "mA"), _LIMITS[readings.word("fitted")]
    )
    numbers: tuple[Number, ...] = ()
    if capacity_ah is not None and draw_ma > 0:
        hours = hours_to_half(draw_ma, capacity_ah)
        numbers = (Number("half_empty_h", "Half the battery is gone in", hours, "h"),)
    says, step = {
        Verdict.GOOD: (
            "Nothing to speak of is drawn.",
            "If the battery still goes flat, test the battery and its charging.",
        ),
        Verdict.LOOK_FURTHER: (
            "Something small is drawn.",
            "Clean and dry battery top, key switch and plugs, and read again.",
        ),
        Verdict.FAULT: (
            "Something draws from the battery with everything off.",
            (
                "Pull the fuses one by one until the draw stops; what feeds from "
                "before the key switch, rectifier and regulator come first."
            ),
        ),
    }[held.verdict]
    return Outcome(held=(held,), says=says, next_step=step, numbers=numbers)


DRAWS = Kind(
    name="parasitic-draw",
    title="Draw with everything off",
    tells="Whether something empties the battery while the bike stands.",
    steps=(
        "Key off, everything off, battery charged.",
        (
            "Lift the earthed ({earth}) lead and put the ammeter between it and the "
            "post, on its highest range first."
        ),
        "Wait until the figure stands still, then go to the milliampere range.",
        "Put the lead back when done.",
    ),
    cautions_kept=(Caution.FUSE, Caution.BATTERY),
    inputs_for=_inputs,
    limits_for=lambda _: tuple(_LIMITS.values()),
    weigh=_weigh,
)
