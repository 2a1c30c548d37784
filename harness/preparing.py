"""Working out ahead what any case on a harness will ask first."""

from harness.masking import masking
from harness.model import Harness
from harness.predictions import predictions_for, symptom_tests
from harness.weighing import Weighing


def prepare(h: Harness) -> None:
    """Work out what the first finding of any case would wait for.

    Raises
    ------
    HarnessError
        When the harness has no body to clip to.
    """
    predictions = predictions_for(h)
    for test in symptom_tests(h):
        predictions.shown(test)
        masking(h, test.rig)
    Weighing(h).belief()
