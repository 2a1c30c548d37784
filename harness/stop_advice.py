"""Stop advice for a hunt: the next test against changing the likeliest part now."""

from typing import Any

import numpy as np

from harness.advice import Survey
from harness.belief import Belief
from harness.model import Harness
from harness.stopping import Costs, Stop, weigh_stopping
from harness.suspects import considered
from harness.words import segment_words


def stop_or_test(belief: Belief, seen: Survey, costs: Costs) -> Stop | None:
    """Return what the next test is worth against acting now.

    Returns
    -------
    Stop or None
        None where nothing is suspected, or no test is left.
    """
    rows, weight = considered(belief)
    sets = [belief.sets[row] for row in rows.tolist()]
    # A fuse is never changed on suspicion: it is looked at, and why it blew is found.
    named = {s for faults in sets for f in faults for s in f.segments}
    parts = sorted(name for name in named if not name.startswith("fuse:"))
    if not parts or not seen.ranked:
        return None
    number = {segment: i for i, segment in enumerate(parts)}
    bad = np.zeros((len(sets), len(parts)))
    for i, faults in enumerate(sets):
        for fault in faults:
            bad[i, [number[s] for s in fault.segments if s in number]] = 1.0
    cost = np.array([costs.of_changing(segment) for segment in parts])
    test = seen.ranked[0]
    part, waste, saved = weigh_stopping(bad, cost, test.groups, weight)
    return Stop(
        segment=parts[part],
        probability=float(weight @ bad[:, part]),
        waste=waste,
        test_worth=saved,
        test_cost=test.minutes * costs.a_minute,
        hunt_cost=max(test.minutes, seen.suspects.entropy_bits / test.worth)
        * costs.a_minute,
    )


def stop_data(h: Harness, found: Stop) -> dict[str, Any]:
    """Return stop advice as plain data."""
    name = segment_words(h, found.segment)
    odds = f"{100 * found.probability:.0f} %"
    if found.stop:
        words = (
            f"Stop testing and change the {name}: it is to blame with "
            f"{odds}. A wrong guess wastes {found.waste:.3g} on the "
            f"average; testing on would cost about {found.hunt_cost:.3g}."
        )
    else:
        words = (
            f"Test on: changing the {name} now, to blame with {odds}, "
            f"would waste {found.waste:.3g} on the average, and the hunt is worth its "
            f"{found.hunt_cost:.3g}."
        )
    return {
        "stop": found.stop,
        "segment": found.segment,
        "probability": found.probability,
        "waste": found.waste,
        "test_worth": found.test_worth,
        "test_cost": found.test_cost,
        "hunt_cost": found.hunt_cost,
        "words": words,
    }
