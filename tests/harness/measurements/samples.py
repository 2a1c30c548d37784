"""Readings that can be true, of every kind and system, for hypothesis."""

from hypothesis import strategies as st

from harness.measurements import KINDS, Input, Kind, System
from tests.harness.measurements.bikes import SYSTEMS

Sample = tuple[Kind, System, dict[str, object]]


def _entry(item: Input) -> st.SearchStrategy[object]:
    if item.choices:
        return st.sampled_from([choice.name for choice in item.choices])
    numbers: st.SearchStrategy[object] = st.floats(item.low, item.high)
    options = [numbers]
    if item.takes_open:
        options.append(st.just("open"))
    if not item.required:
        options.append(st.none())
    return st.one_of(options)


@st.composite
def samples(draw: st.DrawFn) -> Sample:
    """Return a kind, a system and readings within the span of every input."""
    kind = draw(st.sampled_from(KINDS))
    system = draw(
        st.sampled_from([one for one in SYSTEMS if one.volts in kind.systems])
    )
    given = {item.name: draw(_entry(item)) for item in kind.inputs(system)}
    return kind, system, _agreeing(given)


def _agreeing(given: dict[str, object]) -> dict[str, object]:
    """Keep the leads below the least ohms read with them, and one cell read."""
    ohms = [
        value
        for name, value in given.items()
        if name.endswith("_ohm") and isinstance(value, float) and name != "lead_ohm"
    ]
    lead_ohm = given.get("lead_ohm")
    if isinstance(lead_ohm, float):
        given["lead_ohm"] = min([lead_ohm, *ohms])
    if "cell_1_gravity" in given and given["cell_1_gravity"] is None:
        given["cell_1_gravity"] = 1.25
    return given
