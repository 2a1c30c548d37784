"""The chain of plain sentences from findings to a verdict, and the same as data."""

from collections.abc import Iterator
from typing import Any

from harness.explain.known import Known
from harness.explain.soundness import sound_steps
from harness.explain.steps import Step, capital, percent
from harness.explain.suspicion import suspicion_steps
from harness.explain.untested import untested_steps
from harness.minutes import Surroundings
from harness.verdicts import Judged
from harness.words import segment_words


def explanation(known: Known, segment: str, around: Surroundings) -> dict[str, Any]:
    """Return why a segment has its verdict, as plain data.

    Returns
    -------
    dict
        ``segment``, ``verdict``, ``probability`` and ``steps``; each step has its
        ``sentence`` and the ``findings`` and ``segments`` that it speaks of. The first
        step is the verdict, the others lead to it.
    """
    judged = known.judged[segment]
    return {
        "segment": segment,
        "verdict": judged.verdict,
        "probability": judged.probability,
        "steps": [step.as_data() for step in _steps(known, judged, around)],
    }


def _steps(known: Known, judged: Judged, around: Surroundings) -> Iterator[Step]:
    name = capital(segment_words(known.h, judged.segment))
    likely = ""
    if judged.verdict in {"faulty", "suspect"}:
        likely = f" ({percent(judged.probability)})"
    told = f"{name} {_VERDICTS[judged.verdict]}{likely}."
    yield Step(told, judged.proof, (judged.segment,))
    if judged.verdict == "sound":
        yield from sound_steps(known, judged)
    elif judged.verdict == "untested":
        yield from untested_steps(known, judged, around)
    else:
        yield from suspicion_steps(known, judged)


_VERDICTS = {
    "sound": "is sound",
    "faulty": "is faulty",
    "suspect": "is suspect",
    "untested": "has not been put to the test",
}
