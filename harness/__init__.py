"""The electrical engine of a bike's loom; the only module that others import.

Importing it keeps NumPy's linear algebra to one thread in this process: the matrices
are small and many, and on a busy machine more threads only wait for each other
(measured on two cores: 2 s of work against 17 s for the first look at a loom).

>>> import harness
>>> harness.MODES[0]
'open'
"""

from threadpoolctl import threadpool_limits

from harness import measurements, priors
from harness.case import Case
from harness.colours import describe as colour_words
from harness.complaints import complaints, rigs_offered
from harness.errors import HarnessError, Problem, SingularNetwork
from harness.files import load, loads
from harness.model import Device, Harness, Place, Wire
from harness.operating import OperatingPoint, solve
from harness.preparing import prepare
from harness.rehearsal import rehearse
from harness.rig import Rig, rig_from
from harness.segments import MODES, Fault, Segment, segments_of
from harness.showing import shown
from harness.stretches import STRETCHES, stretch_of
from harness.words import fault_words, rig_words, segment_words, terminal_words

threadpool_limits(limits=1, user_api="blas")

__version__ = "1"

__all__ = [
    "MODES",
    "STRETCHES",
    "Case",
    "Device",
    "Fault",
    "Harness",
    "HarnessError",
    "OperatingPoint",
    "Place",
    "Problem",
    "Rig",
    "Segment",
    "SingularNetwork",
    "Wire",
    "colour_words",
    "complaints",
    "fault_words",
    "load",
    "loads",
    "measurements",
    "prepare",
    "priors",
    "rehearse",
    "rig_from",
    "rig_words",
    "rigs_offered",
    "segment_words",
    "segments_of",
    "shown",
    "solve",
    "stretch_of",
    "terminal_words",
]
