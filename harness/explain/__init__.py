"""Belief, advice and conflict as plain data and plain sentences."""

from harness.explain.advising import advice_data
from harness.explain.conflicts import conflict_data
from harness.explain.proofs import segment_sentence

__all__ = ["advice_data", "conflict_data", "segment_sentence"]
