"""Which findings a set of faults has to take for misread."""

from math import log

import numpy as np
import pytest

from harness.belief import Belief
from harness.faults import Fault
from harness.findings import Finding, Test
from harness.misread import MISREAD_METER, MISREAD_RATIO, MISREAD_WORD, misread
from harness.rig import Rig, rig_from
from harness.weighing import believe
from tests.harness.small_looms import horn_and_tail

LAMP = Finding("a", Test(Rig(), "test-lamp", "horn.1", "frame.horn"), "lit")
VOLTS = Finding("b", Test(Rig(), "voltmeter", "horn.1", "frame.horn"), "12.4", 12.4)
SETS = ((), (Fault("wire:1", "open"),), (Fault("wire:2", "open"),))


def doubted(finding: Finding, *likely: float) -> list[bool]:
    """Return which sets take one finding for misread, given its likelihoods."""
    logs = np.log(np.array([likely]))
    belief = Belief(SETS, np.log([0.4, 0.3, 0.3]), (finding,), logs)
    out: list[bool] = misread(belief)[0].tolist()
    return out


def test_a_finding_that_another_explains_twenty_times_better_is_misread() -> None:
    assert MISREAD_RATIO == 1 / 20
    assert doubted(LAMP, 0.9, 0.04, 0.05) == [False, True, False]
    assert doubted(VOLTS, 1.5, 0.074, 0.076) == [False, True, False]


def test_a_word_that_nothing_explains_is_misread_under_all() -> None:
    blunder = 0.005 / 3
    assert doubted(LAMP, blunder, blunder, blunder) == [True] * 3
    assert blunder < MISREAD_WORD * MISREAD_RATIO


def test_a_figure_that_nothing_explains_is_misread_under_all() -> None:
    # Spread over 2.6 times nominal volts, five in a thousand.
    blunder = 0.005 / (2.6 * 12)
    assert doubted(VOLTS, blunder, blunder, blunder) == [True] * 3
    assert blunder < MISREAD_METER * MISREAD_RATIO


def test_a_figure_that_is_only_unlikely_is_no_blunder() -> None:
    # Three widths off, at 0.27 V: the bell is down to about a sixtieth there.
    bell = float(np.exp(-4.5) / (0.27 * np.sqrt(2 * np.pi)))
    assert log(bell) > log(MISREAD_METER * MISREAD_RATIO)
    assert doubted(VOLTS, bell, bell, bell) == [False] * 3


@pytest.mark.parametrize("reads", ["lit", "dark"])
def test_an_honest_reading_is_never_misread_under_the_faults_that_gave_it(
    reads: str,
) -> None:
    h = horn_and_tail()
    test = Test(rig_from(h, {}), "test-lamp", "key-switch.30", "frame.horn")
    belief = believe(h, [Finding("a", test, reads)])
    column = belief.row_of[() if reads == "lit" else (Fault("wire:2", "open"),)]
    assert not misread(belief)[0, column]
