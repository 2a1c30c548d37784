"""The tables of the bench."""

from diagnostics.models.beliefs import Belief
from diagnostics.models.cases import Case
from diagnostics.models.findings import TOOLS, Finding, FindingVoid
from diagnostics.models.harness_files import HarnessFile
from diagnostics.models.measurements import Measurement, MeasurementVoid
from diagnostics.models.repairs import Repair

__all__ = [
    "TOOLS",
    "Belief",
    "Case",
    "Finding",
    "FindingVoid",
    "HarnessFile",
    "Measurement",
    "MeasurementVoid",
    "Repair",
]
