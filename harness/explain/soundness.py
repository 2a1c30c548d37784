"""Why a segment is sound: what would have read otherwise, and at which current."""

from collections.abc import Iterator

from harness.belief import sorted_set
from harness.explain.conflicts import said
from harness.explain.figures import subject_for, would_have
from harness.explain.known import Known
from harness.explain.proofs import TRICKLE_A, lamp_amps_words, lamp_drew
from harness.explain.service import service_of, service_words
from harness.explain.states import state_words
from harness.explain.steps import Step, capital, percent
from harness.findings import Finding
from harness.readings import test_lamp_ohm
from harness.segments import Fault
from harness.verdicts import Judged, currents_during
from harness.words import set_words

FINDINGS_TOLD = 2
# A current this near to the largest in use is as good as that.
AS_MUCH = 0.9
WORTH_SAYING = 1e-3


def sound_steps(known: Known, judged: Judged) -> Iterator[Step]:
    """Yield why a segment is sound."""
    best = sorted(judged.proof, key=lambda name: -_amps(known, name, judged.segment))
    for name in best[:FINDINGS_TOLD]:
        yield _proof(known, known.finding(name), judged.segment)
    more = best[FINDINGS_TOLD:]
    if more:
        count = "one more finding" if len(more) == 1 else f"{len(more)} more findings"
        yield Step(
            f"{capital(count)} would have read otherwise too.",
            tuple(more),
            (judged.segment,),
        )
    yield _carried(known, judged)
    if judged.probability >= WORTH_SAYING:
        yield _left(known, judged)


def _amps(known: Known, name: str, segment: str) -> float:
    faults = known.beside(name)
    found = currents_during(known.h, known.finding(name), faults)
    return found.get(segment, 0.0)


def _proof(known: Known, finding: Finding, segment: str) -> Step:
    h, test = known.h, finding.test
    base, bad = known.beside(finding.id), known.cut(segment)
    both = sorted_set(*base, *bad)
    otherwise = would_have(h, test, known.shown(test, both))
    given = f" as well ({set_words(h, base)})" if base else ""
    return Step(
        f"Finding {said(h, finding)}. With it {state_words(h, bad[0])}{given}, "
        f"{subject_for(h, test)} {otherwise}.",
        (finding.id,),
        (segment, *(name for fault in base for name in fault.segments)),
    )


def _carried(known: Known, judged: Judged) -> Step:
    """Say at what current a segment is proven, and for what it is not."""
    h, amps = known.h, judged.proven_amps or 0.0
    service = service_of(h).get(judged.segment)
    segments = (judged.segment,)
    if amps < TRICKLE_A:
        what = "No load flowed through it then, only a meter's trickle"
        proves = "that proves a path, not that it carries a load"
    elif _lamp_alone(known, judged):
        drew = lamp_amps_words(h.volts / test_lamp_ohm(h.volts))
        what = f"{capital(drew)} flowed through it then, what a test lamp draws"
        proves = "that proves a path, not that it carries more"
    else:
        what = f"{amps:.2g} A flowed through it then"
        proves = f"it is proven for {amps:.2g} A, not for more"
    if service is None:
        return Step(f"{what}: {proves}.", judged.proof, segments)
    load = service_words(h, service)
    if amps >= AS_MUCH * service.amps:
        text = f"{what}, as much as it ever has to carry ({load})."
    elif amps < TRICKLE_A or _lamp_alone(known, judged):
        text = f"{what}: that proves a path, not that it carries {load}."
    else:
        text = f"{what}: {proves}, and it has to carry {load}."
    return Step(text, judged.proof, segments)


def _lamp_alone(known: Known, judged: Judged) -> bool:
    tools = {known.finding(name).test.tool for name in judged.proof}
    return "test-lamp" in tools and lamp_drew(known.h, judged.proven_amps or 0.0)


def _left(known: Known, judged: Judged) -> Step:
    """Say what the findings still leave possible."""
    faults, _ = known.likeliest(judged.segment)
    own = next(f for f in faults if judged.segment in f.segments)
    return Step(
        f"What the findings leave of suspicion ({percent(judged.probability)}): "
        f"it may be {state_words(known.h, own)}.{_would_show(own)}",
        (),
        (judged.segment,),
    )


def _would_show(fault: Fault) -> str:
    if fault.moved:
        return " Moving the loom about during a test would show it."
    if fault.mode == "resistive":
        return " A voltage drop over it under load would show it."
    return ""
