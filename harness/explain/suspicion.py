"""Why a segment is suspect or faulty: what speaks for it, and what it competes with."""

from collections.abc import Iterator

import numpy as np

from harness.advice import Ranked
from harness.circuit import BoolArray, FloatArray
from harness.conflict import hangs_on
from harness.explain.conflicts import said
from harness.explain.figures import subject_for, would_have
from harness.explain.known import Known, of_segment, without
from harness.explain.outcomes import outcomes
from harness.explain.readings import reading
from harness.explain.states import state_words
from harness.explain.steps import Step, listed, percent
from harness.findings import Finding
from harness.information import entropy_bits
from harness.model import Harness
from harness.sets import FaultSet
from harness.verdicts import SUPPORTED, Judged
from harness.words import fault_words, segment_words, set_words, test_words

FINDINGS_TOLD = 3
RIVALS_TOLD = 3
RIVAL = 0.02
# So much of the doubt whether it is bad must a test take away to be told of.
TELLS = 0.5


def suspicion_steps(known: Known, judged: Judged) -> Iterator[Step]:
    """Yield why a segment is suspect or faulty."""
    faults, p = known.likeliest(judged.segment)
    yield _likeliest(known, judged, faults, p)
    for name in judged.proof[:FINDINGS_TOLD]:
        yield _speaks(known, known.finding(name), judged.segment, faults)
    if more := judged.proof[FINDINGS_TOLD:]:
        told = "One more finding speaks" if len(more) == 1 else "More findings speak"
        yield Step(f"{told} for it: {listed(more)}.", more, (judged.segment,))
    if len(faults) > 1:
        yield from _shares(known, judged.segment, faults)
    yield from _against(known, judged.segment)
    if (
        known.confirming is not None
        and judged.segment in known.survey.suspects.segments
    ):
        yield _hangs(known, known.confirming, judged.segment)


def _likeliest(known: Known, judged: Judged, faults: FaultSet, p: float) -> Step:
    h = known.h
    own = of_segment(faults, judged.segment)[0]
    others = without(faults, judged.segment)
    text = f"Likeliest it is {state_words(h, own)}"
    if others:
        text += f", and {set_words(h, others)} at the same time"
    names = tuple(name for fault in faults for name in fault.segments)
    return Step(f"{text} ({percent(p)}).", (), names)


def _speaks(known: Known, finding: Finding, segment: str, faults: FaultSet) -> Step:
    """Say what a finding would have read with the segment bad, and with it sound."""
    h, test = known.h, finding.test
    own = of_segment(faults, segment)[0]
    rest = without(faults, segment)
    if finding.moving and own.moved:
        text = "It was taken while the loom was moved, which parts such a contact"
        return Step(f"Finding {said(h, finding)}. {text}.", (finding.id,), (segment,))
    bad = would_have(h, test, known.shown(test, faults))
    sound = would_have(h, test, known.shown(test, rest))
    subject = subject_for(h, test)
    given = f" (given that {set_words(h, rest)})" if rest else ""
    return Step(
        f"Finding {said(h, finding)}. With it {state_words(h, own)} {subject} {bad}; "
        f"with it sound {subject} {sound}{given}.",
        (finding.id,),
        (segment,),
    )


def _shares(known: Known, segment: str, faults: FaultSet) -> Iterator[Step]:
    """Say what each of several faults explains that the others do not."""
    logs, row_of = known.belief.log_likelihood, known.belief.row_of
    for fault in faults:
        if segment in fault.segments:
            continue
        rest = tuple(other for other in faults if other != fault)
        if rest not in row_of:
            continue
        gain = logs[:, row_of[faults]] - logs[:, row_of[rest]]
        names = tuple(
            known.belief.findings[i].id
            for i in np.flatnonzero(gain > SUPPORTED).tolist()
        )
        if names:
            yield Step(
                f"That {fault_words(known.h, fault)} explains {listed(names)}, which "
                "this segment alone does not.",
                names,
                fault.segments,
            )


def _against(known: Known, segment: str) -> Iterator[Step]:
    """Say what else it may be, and what would tell them apart."""
    rivals = _rivals(known, segment)
    if not rivals:
        return
    shared = without(known.likeliest(segment)[0], segment)
    named = [f"{_less(known, f, shared)} ({percent(p)})" for f, p in rivals]
    names = dict.fromkeys(n for faults, _ in rivals for f in faults for n in f.segments)
    yield Step(f"It may also be this: {'; or '.join(named)}.", (), tuple(names))
    if alike := _alike(known, segment):
        same = listed([segment_words(known.h, name) for name in alike])
        yield Step(f"No test on offer tells it from {same}.", (), alike)
    if telling := _telling(known, segment):
        yield _apart(known, telling, segment)


def _rivals(known: Known, segment: str) -> list[tuple[FaultSet, float]]:
    """Return the likeliest explanations in which the segment is sound."""
    found = [
        (faults, p)
        for _, p, faults in known.belief.explanations()
        if p >= RIVAL and faults and not of_segment(faults, segment)
    ]
    return found[:RIVALS_TOLD]


def _less(known: Known, faults: FaultSet, shared: FaultSet) -> str:
    """Return a rival in words, less what it has in common with the suspicion."""
    common = {(fault.segment, fault.mode) for fault in shared}
    rest = [fault for fault in faults if (fault.segment, fault.mode) not in common]
    return set_words(known.h, rest) if rest else "no second fault"


def _alike(known: Known, segment: str) -> tuple[str, ...]:
    """Return the segments that no offered test tells from this one."""
    sets = known.survey.suspects.alike
    if not any(of_segment(faults, segment) for faults in sets):
        return ()
    bad = {n for f in known.likeliest(segment)[0] for n in f.segments}
    return tuple(
        dict.fromkeys(
            name
            for faults in sets
            if not of_segment(faults, segment)
            for fault in faults
            for name in fault.segments
            if name not in bad
        )
    )


def _telling(known: Known, segment: str) -> Ranked | None:
    """Return the first advised test that says most of whether the segment is bad."""
    bad, weight = _bad(known, segment)
    if not bad.any() or bad.all():
        return None
    asked = _entropy(np.array([weight[bad].sum(), weight[~bad].sum()]))
    for ranked in known.survey.ranked:
        mass = np.zeros((2, int(ranked.groups.max()) + 1))
        np.add.at(mass, (bad.astype(np.intp), ranked.groups), weight)
        told = asked + _entropy(mass.sum(axis=0)) - _entropy(mass.ravel())
        if told >= TELLS * asked:
            return ranked
    return None


def _bad(known: Known, segment: str) -> tuple[BoolArray, FloatArray]:
    """Return in which hypotheses considered a segment is bad, and their weights."""
    rows = known.survey.rows
    bad = [
        any(segment in fault.segments for fault in known.belief.sets[row])
        for row in rows.tolist()
    ]
    weight = known.belief.probability[rows]
    return np.array(bad), weight / weight.sum()


def _entropy(p: FloatArray) -> float:
    return float(entropy_bits(p))


def _apart(known: Known, ranked: Ranked, segment: str) -> Step:
    """Say which reading of a test would speak for the segment."""
    h, (bad, weight) = known.h, _bad(known, segment)

    def share(joint: FloatArray) -> str:
        return f"{float(joint[bad].sum() / joint.sum()):.6f}"

    seen = (ranked.shown, ranked.groups)
    shares = [
        (float(outcome["means"]), reading(outcome["reads"]))
        for outcome in outcomes(h, ranked.test, seen, weight, share)
    ]
    best, worst = max(shares), min(shares)
    return Step(
        f"What would tell: {test_words(h, ranked.test)}. Reading {best[1]} speaks for "
        f"it ({percent(best[0])} then), {worst[1]} against ({percent(worst[0])} then).",
        (),
        (segment,),
    )


def _hangs(known: Known, ranked: Ranked, segment: str) -> Step:
    """Say on which finding the conclusion hangs, and what would confirm it."""
    h = known.h
    name, rival = hangs_on(known.belief, known.survey.suspects.segments)
    return Step(
        f"{hangs_words(h, name, rival)} To be sure: {test_words(h, ranked.test)}.",
        (name,),
        (segment, *(n for fault in rival for n in fault.segments)),
    )


def hangs_words(h: Harness, name: str, rival: FaultSet) -> str:
    """Return on which finding a conclusion hangs, as a sentence."""
    return (
        f"It hangs on {name} alone: were that a slip, it might as well be this: "
        f"{set_words(h, rival)}."
    )
