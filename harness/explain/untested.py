"""Why a segment is untested, and what would put it to the test."""

from collections.abc import Iterator

import numpy as np

from harness.advice import outcome_groups, rigs_considered
from harness.belief import sorted_set
from harness.explain.figures import shown_words
from harness.explain.known import Known
from harness.explain.states import state_words
from harness.explain.steps import Step, percent
from harness.findings import Test
from harness.minutes import Surroundings, minutes_for, rig_minutes
from harness.offered import offered_for
from harness.segments import on_other_segments
from harness.sets import FaultSet
from harness.verdicts import Judged
from harness.words import set_words, test_words

WORTH_SAYING = 1e-3
# A lamp or a consumer that works proves a load, a meter only a path.
PREFERRED = ("eye", "test-lamp", "voltmeter", "ohmmeter")


def untested_steps(
    known: Known, judged: Judged, around: Surroundings
) -> Iterator[Step]:
    """Yield why a segment is untested, and what would put it to the test."""
    h, bad = known.h, known.cut(judged.segment)
    count = len(known.belief.findings)
    segments = (judged.segment,)
    if not count:
        yield Step("There are no findings yet.", (), segments)
    else:
        what = "The finding so far reads" if count == 1 else "All findings so far read"
        yield Step(
            f"{what} the same with it {state_words(h, bad[0])} as with it sound.",
            tuple(known.number_of),
            segments,
        )
    if judged.probability >= WORTH_SAYING:
        faults, _ = known.likeliest(judged.segment)
        own = next(f for f in faults if judged.segment in f.segments)
        yield Step(
            f"How likely it is to be bad: {percent(judged.probability)} "
            f"(likeliest {state_words(h, own)}).",
            (),
            segments,
        )
    yield _what_would(known, bad, around)


def _what_would(known: Known, bad: FaultSet, around: Surroundings) -> Step:
    h = known.h
    segments = tuple(name for fault in bad for name in fault.segments)
    base = known.belief.sets[known.belief.top]
    apart = all(on_other_segments(fault, base) for fault in bad)
    if not apart or known.belief.probability[known.belief.top] < 0.5:  # noqa: PLR2004 - likelier than not
        base = ()
    found = _test_for(known, base, bad, around)
    if found is None and base:
        base, found = (), _test_for(known, (), bad, around)
    if found is None:
        return Step("No test on offer would read otherwise with it bad.", (), segments)
    test, sound, otherwise = found
    given = f" (given that {set_words(h, base)})" if base else ""
    return Step(
        f"What would put it to the test: {test_words(h, test)}. With it sound: "
        f"{shown_words(h, test, sound)}; with it {state_words(h, bad[0])}: "
        f"{shown_words(h, test, otherwise)}{given}.",
        (),
        segments,
    )


def _test_for(
    known: Known, base: FaultSet, bad: FaultSet, around: Surroundings
) -> tuple[Test, float, float] | None:
    """Return the quickest test that reads otherwise with more wrong than some faults.

    What comes with it is what it shows without and with.
    """
    h = known.h
    offered = offered_for(h)
    wanted = [base, sorted_set(*base, *bad)]
    found: list[tuple[float, int, Test, float, float]] = []
    for rig in sorted(rigs_considered(h), key=lambda r: rig_minutes(around.rig, r)):
        for block in offered.blocks(rig):
            shown = block.read(known.sets, wanted)
            groups, _ = outcome_groups(h, block, shown)
            for i in np.flatnonzero(groups[0] != groups[1]).tolist():
                test = block.tests[i]
                if test not in around.taken and not np.isnan(shown[:, i]).any():
                    found.append(
                        (
                            minutes_for(h, test, around),
                            PREFERRED.index(test.tool),
                            test,
                            float(shown[0, i]),
                            float(shown[1, i]),
                        )
                    )
        if found:
            break
    if not found:
        return None
    _, _, test, sound, otherwise = min(found, key=lambda item: item[:2])
    return test, sound, otherwise
