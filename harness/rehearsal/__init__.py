"""Every fault of a loom played against the advice, and against two habits of the trade.

The rider's report is what the eye says of every consumer in every ordinary rig. Then
the advice is followed, each test answered by the solver with the faults in, until a
class of faults that no offered test tells apart stands at 0.95.
"""

from harness.rehearsal.play import Hunts, Played
from harness.rehearsal.rehearse import play_all, rehearse
from harness.rehearsal.report import Report, answer
from harness.rehearsal.summary import calibration_error, weighted_mean

__all__ = [
    "Hunts",
    "Played",
    "Report",
    "answer",
    "calibration_error",
    "play_all",
    "rehearse",
    "weighted_mean",
]
