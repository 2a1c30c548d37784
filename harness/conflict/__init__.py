"""What to doubt when findings cannot all be true of the drawing.

Either a finding was misread or the loom is not as drawn. Nothing is renormalised away:
each doubt comes with the explanation that stands if it is right, and all of them with
the test that settles which it is.
"""

from harness.conflict.confirming import confirming, doubtful_survey, hangs_on
from harness.conflict.doubts import Conflict, Doubt, conflict_in
from harness.conflict.drawings import DrawingDoubt
from harness.conflict.judging import Weighed, judged_conflict, weighed_doubts
from harness.conflict.redrawing import Move, Redrawn
from harness.conflict.settling import hypotheses, settling

__all__ = [
    "Conflict",
    "Doubt",
    "DrawingDoubt",
    "Move",
    "Redrawn",
    "Weighed",
    "confirming",
    "conflict_in",
    "doubtful_survey",
    "hangs_on",
    "hypotheses",
    "judged_conflict",
    "settling",
    "weighed_doubts",
]
