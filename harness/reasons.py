"""Why a test is advised, in one sentence, and what to read as well while there."""

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from harness.advice import Ranked
from harness.circuit import FloatArray
from harness.findings import Test
from harness.lookahead import bits_of_ways
from harness.minutes import Surroundings, places_of
from harness.model import Harness
from harness.sets import FaultSet
from harness.steps import cautions, test_steps
from harness.words import as_json_test, test_words

CHAINED_MOST = 3
CHAINED_LEAST_BITS = 0.15
EVEN = 0.35
MOSTLY = 0.8


def chained(
    h: Harness,
    ranked: Sequence[Ranked],
    ways: NDArray[np.intp],
    weight: FloatArray,
    around: Surroundings,
) -> list[Test]:
    """Return tests to make along with the first: same rig, nothing more to open.

    Each tells something that those before it leave open.
    """
    first, *others = ranked
    places = around.open_places | places_of(h, first.test)
    near = [
        one
        for one in others
        if one.test.rig == first.test.rig and places_of(h, one.test) <= places
    ]
    taken: list[Test] = []
    groups, known = first.groups, bits_of_ways(first.groups, ways, weight)
    while near and len(taken) < CHAINED_MOST:
        joined = [_together(groups, one.groups) for one in near]
        gains = [bits_of_ways(labels, ways, weight) - known for labels in joined]
        best = int(np.argmax(gains))
        if gains[best] < CHAINED_LEAST_BITS:
            break
        taken.append(near[best].test)
        groups, known = joined[best], known + gains[best]
        near = [one for i, one in enumerate(near) if i != best]
    return taken


def _together(one: NDArray[np.intp], other: NDArray[np.intp]) -> NDArray[np.intp]:
    return one * (int(other.max()) + 1) + other


def reason(
    h: Harness,
    ranked: Ranked,
    sets: Sequence[FaultSet],
    weight: FloatArray,
    around: Surroundings,
) -> str:
    """Return why a test is worth making now, in one sentence."""
    parts = _divides(ranked, weight) + _method(ranked.test, sets, weight)
    return f"{parts}, {_access(h, ranked.test, around)}."


def _divides(ranked: Ranked, weight: FloatArray) -> str:
    shares = np.sort(np.bincount(ranked.groups, weights=weight))[::-1]
    shares = shares[shares > 0.01]  # noqa: PLR2004 - less is not worth a word
    if len(shares) > 2:  # noqa: PLR2004
        return f"Its reading parts the suspicion {len(shares)} ways"
    if len(shares) < 2:  # noqa: PLR2004
        return "It confirms or clears the likeliest suspect"
    if shares[-1] >= EVEN:
        return "It parts the suspicion nearly in half"
    return (
        f"It clears or convicts {100 * shares[-1]:.0f} % of the suspicion at one stroke"
    )


def _method(test: Test, sets: Sequence[FaultSet], weight: FloatArray) -> str:
    if test.rig.removed and test.tool == "test-lamp":
        return "; with the lamp in the fuse's place a short lights it and burns nothing"
    bad = np.array([any(f.mode == "resistive" for f in faults) for faults in sets])
    if test.tool == "voltmeter" and float(weight[bad].sum()) >= MOSTLY:
        return "; a bad contact shows only under load, as volts lost across it"
    if test.rig.unplugged:
        return "; with the plug apart the two sides are tried by themselves"
    return ""


def _access(h: Harness, test: Test, around: Surroundings) -> str:
    needed = places_of(h, test)
    new = sorted(needed - around.open_places)
    if new:
        names = "; ".join(_lowered(h.places[place].name) for place in new)
        minutes = sum(h.places[place].access_minutes for place in new)
        return f"for {minutes:g} min more of getting at it ({names})"
    return "in a place that is open already" if needed else "with nothing to open"


def _lowered(name: str) -> str:
    return name if name[1:2].isupper() else name[:1].lower() + name[1:]


def test_data(h: Harness, test: Test) -> dict[str, Any]:
    """Return a test as plain data, with how to make it."""
    return {
        **as_json_test(test),
        "steps": test_steps(h, test),
        "cautions": cautions(h, test),
        "words": test_words(h, test),
    }
