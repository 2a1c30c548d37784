"""Battery state from the specific gravity of its electrolyte, cell by cell."""

from harness.measurements.cautions import Caution
from harness.measurements.charges import (
    GRAVITY_SOURCE,
    charge_of_gravity,
    rest_v_of_gravity,
)
from harness.measurements.entries import Input, Readings, refuse
from harness.measurements.kinds import Held, Kind, Number, Outcome, hold
from harness.measurements.limits import GREY_SHARE, Conditions, Limit, Verdict
from harness.measurements.sources import Confidence, Source, Standing, practice
from harness.measurements.systems import System

# Service texts: 0.004 for each 10 °F from 80 °F, added when hot, taken off when cold.
GRAVITY_PER_10F = 0.004
REFERENCE_F = 80.0
CORRECTION_SOURCE = Source(
    "Service texts of engine sets: 0.004 for each 10 °F from 80 °F",
    Standing.PUBLISHED,
    Confidence.HIGH,
)
COLDEST, WARMEST = -20.0, 55.0
LEAST, MOST = 1.000, 1.350
SPREAD_AT_MOST = 0.050 / GREY_SHARE
SPREAD_FAULT = 0.050


def corrected_gravity(read: float, celsius: float) -> float:
    """Return a hydrometer's reading as it would be at 80 °F (26.7 °C).

    Parameters
    ----------
    read : float
        Specific gravity as read.
    celsius : float
        Temperature of the electrolyte.

    Examples
    --------
    >>> round(corrected_gravity(1.250, (20 - 32) / 1.8), 3)
    1.226
    """
    fahrenheit = celsius * 1.8 + 32
    return read + GRAVITY_PER_10F * (fahrenheit - REFERENCE_F) / 10


def gravity_limit(_: System) -> Limit:
    """Return the gravity of a cell that is charged enough to work with."""
    return Limit(
        quantity="Gravity of the weakest cell",
        unit="",
        low=1.250,
        high=1.300,
        fault_below=1.170,
        conditions=Conditions(words="brought to 26.7 °C", celsius=(COLDEST, WARMEST)),
        source=GRAVITY_SOURCE,
    )


def spread_limit(_: System) -> Limit:
    """Return how far the cells of a sound battery lie apart at most."""
    return Limit(
        quantity="Difference between the cells",
        unit="",
        high=round(SPREAD_AT_MOST, 3),
        fault_above=SPREAD_FAULT,
        source=practice("Service habit: cells 0.050 apart have a bad one among them"),
    )


def _inputs(system: System) -> tuple[Input, ...]:
    cells = tuple(
        Input(
            name=f"cell_{number}_gravity",
            label=f"Cell {number}",
            low=LEAST,
            high=MOST,
            required=False,
            mend="write it as 1.265, and check that the float swims free",
        )
        for number in range(1, system.cells + 1)
    )
    warmth = Input(
        name="electrolyte_c",
        label="Temperature of the electrolyte",
        unit="°C",
        low=COLDEST,
        high=WARMEST,
        mend="bring the battery to room temperature and read it again",
    )
    return (*cells, warmth)


def _weigh(readings: Readings, system: System) -> Outcome:
    celsius = readings.number("electrolyte_c")
    cells = tuple(
        Number(f"cell_{number}", f"Cell {number}, corrected", corrected)
        for number in range(1, system.cells + 1)
        if (read := readings.maybe(f"cell_{number}_gravity")) is not None
        for corrected in (corrected_gravity(read, celsius),)
    )
    if not cells:
        raise refuse("cell_1_gravity", "no cell was read", "enter one cell at least")
    weakest = min(cells, key=lambda cell: cell.value)
    spread = max(cell.value for cell in cells) - weakest.value
    held = [hold(weakest, gravity_limit(system))]
    if len(cells) > 1:
        apart = Number("spread", "Difference between the cells", spread)
        held.append(hold(apart, spread_limit(system)))
    every = len(cells) == system.cells
    mean = sum(cell.value for cell in cells) / len(cells)
    charge = charge_of_gravity(mean)
    return Outcome(
        held=tuple(held),
        says=f"About {charge.words}, going by {len(cells)} of {system.cells} cells.",
        next_step=_next(tuple(held), weakest, every=every),
        numbers=(
            *cells,
            Number(
                "charge_harsh_percent", "Charge, at least", charge.harsh_percent, "%"
            ),
            Number("charge_kind_percent", "Charge, at most", charge.kind_percent, "%"),
            Number(
                "rest_v",
                "Volts to expect at rest, by Vinal's rule",
                rest_v_of_gravity(mean, cells=system.cells),
                "V",
            ),
        ),
        remarks=(f"Corrected by: {CORRECTION_SOURCE.sentence}.",),
        at_best=Verdict.GOOD if every else Verdict.LOOK_FURTHER,
    )


def _next(held: tuple[Held, ...], weakest: Number, *, every: bool) -> str:
    cell = weakest.label.partition(",")[0].lower()
    verdicts = [one.verdict for one in held]
    if Verdict.FAULT in verdicts[1:]:
        return (
            f"Charge it fully and read again; if {cell} stays behind, the battery is "
            "done for."
        )
    if verdicts[0] is not Verdict.GOOD:
        return (
            "Charge it until the gravity has not risen for two hours, and read again."
        )
    if Verdict.LOOK_FURTHER in verdicts:
        return f"Give it an equalising charge and watch {cell}."
    if not every:
        return "Read the other cells too: one bad cell is what this test finds best."
    return "The battery is charged and even; go on to the load test."


GRAVITY = Kind(
    name="battery-gravity",
    title="Battery by hydrometer",
    tells="How far each cell is charged, and whether one has fallen behind.",
    steps=(
        "Do not read just after topping up: the water has not mixed yet.",
        (
            "Draw electrolyte into the hydrometer until the float swims free, and read "
            "it at the level of the liquid."
        ),
        "Put it back into the same cell, and go on to the next.",
        "Note the temperature of the electrolyte.",
    ),
    cautions_kept=(Caution.ACID, Caution.BATTERY),
    inputs_for=_inputs,
    limits_for=lambda system: (gravity_limit(system), spread_limit(system)),
    weigh=_weigh,
)
