"""Every fault of a loom played against the advice, and against two habits of the trade.

The rider's report is what the eye says of every consumer in every ordinary rig. Then
the advice is followed, each test answered by the solver with the faults in, until a
class of faults that no offered test tells apart stands at 0.95.
"""

from harness.rehearsal.answers import AsLikely, Slips, Sound, answer
from harness.rehearsal.blind_data import blind_data, blind_lines
from harness.rehearsal.chosen import (
    as_they_come,
    noticeable_pairs,
    noticeable_singles,
    some_of,
)
from harness.rehearsal.play import Bike, Hunts, Played
from harness.rehearsal.rehearse import by_habit, play_all, rehearse, summary
from harness.rehearsal.report import Reports
from harness.rehearsal.summary import calibration_error, weighted_mean

__all__ = [
    "AsLikely",
    "Bike",
    "Hunts",
    "Played",
    "Reports",
    "Slips",
    "Sound",
    "answer",
    "as_they_come",
    "blind_data",
    "blind_lines",
    "by_habit",
    "calibration_error",
    "noticeable_pairs",
    "noticeable_singles",
    "play_all",
    "rehearse",
    "some_of",
    "summary",
    "weighted_mean",
]
