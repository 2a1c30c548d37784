"""Why a segment has its verdict, in one sentence."""

from collections.abc import Mapping

from harness.findings import Finding
from harness.model import Harness
from harness.readings import test_lamp_ohm
from harness.verdicts import Judged
from harness.words import finding_words, reading_words, segment_words

# A current under this is a meter's own, A.
TRICKLE_A = 0.01
# A lit test lamp's own current, as a share of that at nominal volts.
LIT_AT_LEAST, LIT_AT_MOST = 0.75, 1.25


def segment_sentence(
    h: Harness, judged: Judged, findings: Mapping[str, Finding]
) -> str:
    """Return why a segment has its verdict, in one sentence."""
    name = segment_words(h, judged.segment)
    head = f"{name[0].upper()}{name[1:]}"
    tests = [f"{i} ({finding_words(h, findings[i])}: {reading_words(findings[i])})"
             for i in judged.proof[:2]]  # fmt: skip
    why = " and ".join(tests)
    more = len(judged.proof) - len(tests)
    if more > 0:
        why += f" and {more} more"
    if judged.verdict == "untested":
        return f"{head} has not been put to the test."
    if judged.verdict == "sound":
        carried = _carried(h, judged, findings)
        return f"{head} is sound: {why} would have read otherwise{carried}."
    likely = f"with {judged.probability:.0%} likelihood"
    if judged.verdict == "faulty":
        return f"{head} is faulty {likely}, shown by {why}."
    return f"{head} is suspect {likely}" + (f", because of {why}." if why else ".")


def _carried(h: Harness, judged: Judged, findings: Mapping[str, Finding]) -> str:
    """Return the current that a segment was proven for, and what drew it."""
    amps = judged.proven_amps
    if amps is None:
        return ""
    tools = {findings[i].test.tool for i in judged.proof}
    if amps < TRICKLE_A:
        return "; that proves a path at a meter's trickle, and no load"
    if "test-lamp" in tools and lamp_drew(h, amps):
        drawn = lamp_amps_words(h.volts / test_lamp_ohm(h.volts))
        return f"; proven for {drawn}, what a test lamp draws, not for more"
    if "voltmeter" in tools:
        return f"; proven at the {amps:.2g} A that flowed meanwhile, not for more"
    return f"; proven at {amps:.2g} A, not for more"


def lamp_drew(h: Harness, amps: float) -> bool:
    """Return whether a current is that of a lit test lamp alone."""
    lamp_a = h.volts / test_lamp_ohm(h.volts)
    return LIT_AT_LEAST * lamp_a <= amps <= LIT_AT_MOST * lamp_a


def lamp_amps_words(amps: float) -> str:
    """Return a test lamp's current as it is spoken of."""
    spoken = {0.125: "an eighth of an ampere", 0.25: "a quarter of an ampere",
              0.5: "half an ampere"}  # fmt: skip
    return spoken.get(amps, f"{amps:.2g} A")
