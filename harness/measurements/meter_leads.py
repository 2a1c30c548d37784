"""The resistance of the meter's own leads, which is in every small reading."""

import math

from harness.measurements.entries import Input, Readings, refuse

# Under this a reading is not judged before the leads are taken off (trade habit).
SMALL_OHM = 2.0
LEAD = Input(
    name="lead_ohm",
    label="The meter's leads, held together",
    unit="Ω",
    low=0,
    high=2,
    mend="clean the tips and the plugs of the leads, or use others",
    help="0.1 to 0.5 Ω is usual; it is taken off each reading.",
    required=False,
)


def less_leads(readings: Readings, name: str) -> float:
    """Return a reading in ohms with the leads taken off; infinite stays so.

    Raises
    ------
    HarnessError
        When the leads would have more than the reading with them.
    """
    read_ohm, lead_ohm = readings.number(name), readings.maybe(LEAD.name) or 0.0
    if read_ohm < lead_ohm:
        what = f"the leads alone ({lead_ohm:g} Ω) have more than {read_ohm:g} Ω"
        raise refuse(name, what, "measure the leads again, held together")
    return read_ohm - lead_ohm if math.isfinite(read_ohm) else read_ohm


def lead_remarks(readings: Readings, ohms: tuple[float, ...]) -> tuple[str, ...]:
    """Return the reminder that leads were not taken off small readings."""
    if readings.maybe(LEAD.name) is not None or min(ohms) >= SMALL_OHM:
        return ()
    return ("The leads' own 0.1 to 0.5 Ω is still in it: hold them together and read.",)
