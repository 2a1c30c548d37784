"""What confirmed repairs teach about how looms go bad in this shop."""

from collections.abc import Sequence
from dataclasses import dataclass

import harness
from diagnostics.selectors.confirmed_repairs import ConfirmedRepair


@dataclass(frozen=True, kw_only=True)
class Experience:
    """How many repairs taught something, and what it was."""

    repairs: int
    learned: harness.priors.Learned


def experience_of(
    repairs: Sequence[tuple[harness.Harness, ConfirmedRepair]],
) -> Experience:
    """Learn from repairs, each with the loom that it was made on."""
    taught = [lessons for h, repair in repairs if (lessons := _lessons(h, repair))]
    rows = [row for lessons in taught for row in lessons]
    return Experience(repairs=len(taught), learned=harness.priors.learned(rows))


def _lessons(
    h: harness.Harness, repair: ConfirmedRepair
) -> tuple[harness.priors.Confirmed, ...]:
    """Return what one repair counts for; nothing where nobody said what was bad.

    What was put right together was rarely bad together: each has an equal part.
    """
    known = harness.segments_of(h)
    bad = [s for s in repair.segments if s in known and repair.mode in known[s].modes]
    return tuple(
        harness.priors.confirmed_on(h, segment, repair.mode, 1 / len(bad))
        for segment in bad
    )
