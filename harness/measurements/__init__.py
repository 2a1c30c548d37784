"""Readings judged against limits of the trade, each limit with its source.

Ten kinds of measurement, for 6, 12 and 24 V and either polarity: the battery at rest,
by hydrometer and under load, cranking, charging, voltage drop, draw with everything
off, the stator twice, and the ignition coil. `KINDS` lists them, `judge` judges one.

Only a limit whose source was read is called published. Nothing here knows a loom.

>>> from harness import measurements
>>> bike = measurements.System(12, "negative")
>>> found = measurements.judge(
...     "voltage-drop", {"stretch": "earth-side", "drop_v": 0.4, "load_a": 4}, bike
... )
>>> found.verdict.label
'Fault'
>>> found.numbers[0].value, found.numbers[0].unit
(100.0, 'mΩ')
"""

from harness.measurements.entries import Choice, Input
from harness.measurements.kinds import Entered, Held, Judgement, Kind, Number
from harness.measurements.limits import Conditions, Limit, Verdict
from harness.measurements.plain import input_data, judgement_data, kind_data, limit_data
from harness.measurements.registry import KINDS, judge, kind_named, kinds_for
from harness.measurements.sources import Confidence, Source, Standing
from harness.measurements.systems import SYSTEM_VOLTS, System, system_of

__all__ = [
    "KINDS",
    "SYSTEM_VOLTS",
    "Choice",
    "Conditions",
    "Confidence",
    "Entered",
    "Held",
    "Input",
    "Judgement",
    "Kind",
    "Limit",
    "Number",
    "Source",
    "Standing",
    "System",
    "Verdict",
    "input_data",
    "judge",
    "judgement_data",
    "kind_data",
    "kind_named",
    "kinds_for",
    "limit_data",
    "system_of",
]
