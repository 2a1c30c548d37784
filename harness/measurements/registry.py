"""Every kind of measurement, in the order in which one would take them."""

from collections.abc import Mapping

from harness.measurements.charging import CHARGING
from harness.measurements.coils import COILS
from harness.measurements.cranking import CRANKING
from harness.measurements.draws import DRAWS
from harness.measurements.drops import DROPS
from harness.measurements.entries import refuse
from harness.measurements.gravity import GRAVITY
from harness.measurements.kinds import Judgement, Kind
from harness.measurements.loading import LOADING
from harness.measurements.resting import RESTING
from harness.measurements.stators import STATOR_OHMS, STATOR_VOLTS
from harness.measurements.systems import System

KINDS: tuple[Kind, ...] = (
    RESTING,
    GRAVITY,
    LOADING,
    CRANKING,
    CHARGING,
    DROPS,
    DRAWS,
    STATOR_OHMS,
    STATOR_VOLTS,
    COILS,
)


def kinds_for(system: System) -> tuple[Kind, ...]:
    """Return the kinds that have limits for a system."""
    return tuple(kind for kind in KINDS if system.volts in kind.systems)


def kind_named(name: str) -> Kind:
    """Return the kind of a name.

    Raises
    ------
    HarnessError
        When there is none.
    """
    for kind in KINDS:
        if kind.name == name:
            return kind
    names = ", ".join(kind.name for kind in KINDS)
    raise refuse("kind", f"no measurement is called {name!r}", f"use {names}")


def judge(kind_name: str, given: Mapping[str, object], system: System) -> Judgement:
    """Judge what was read against the limits of its kind.

    Parameters
    ----------
    kind_name : str
        Such as ``battery-rest``; see `KINDS`.
    given : mapping
        Readings by the names of the kind's inputs, numbers or texts.
    system : System
        Volts and polarity of the bike.

    Raises
    ------
    HarnessError
        When the kind is unknown, has no limit for these volts, or the readings cannot
        be true; with every problem.

    Examples
    --------
    >>> bike = System(6, "positive")
    >>> found = judge("cranking", {"cranking_v": "4,2", "battery_c": 20}, bike)
    >>> found.verdict.label, found.limit.low
    ('Fault', 4.8)
    """
    return kind_named(kind_name).judge(given, system)
