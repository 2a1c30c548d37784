"""Belief, advice and conflict as plain data and plain sentences."""

from harness.explain.advising import advice_data
from harness.explain.chain import explanation
from harness.explain.conflicts import conflict_data
from harness.explain.known import Known
from harness.explain.proofs import segment_sentence
from harness.explain.readings import reading
from harness.explain.suspicion import hangs_words

__all__ = [
    "Known",
    "advice_data",
    "conflict_data",
    "explanation",
    "hangs_words",
    "reading",
    "segment_sentence",
]
