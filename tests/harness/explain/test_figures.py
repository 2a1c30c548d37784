"""What a test would have shown, in the words of its tool."""

import numpy as np
import pytest

from harness.explain.figures import figure, shown_words, subject_for, would_have
from harness.findings import Test, Tool
from harness.rig import rig_from
from tests.harness.conflict.cases import bike

REST = rig_from(bike(), {})


def look(tool: Tool, device: str = "") -> Test:
    return Test(rig=REST, tool=tool, probe="horn.1", clip="horn.2", device=device)


FUSE = look("eye", "main-fuse")
HORN = look("eye", "horn")
TAIL = look("eye", "rear-lamp.tail")


@pytest.mark.parametrize(
    ("test", "shown", "words"),
    [
        (look("test-lamp"), 0.0, "dark (0 V across it)"),
        (look("test-lamp"), -12.4, "lit (12.4 V across it)"),
        (look("test-lamp"), 6.0, "dim (6 V across it)"),
        (look("voltmeter"), 12.3456, "12.3 V"),
        (look("voltmeter"), -0.052, "-0.05 V"),
        (look("ohmmeter"), np.inf, "open"),
        (look("ohmmeter"), 4.8, "4.8 ohm"),
        (look("ammeter"), 2.41, "2.41 A"),
        (HORN, 1.0, "works"),
        (HORN, 0.0, "dead"),
        (HORN, 0.62, "weak (62 % of its volts)"),
        (FUSE, 0.0, "intact"),
        (FUSE, 1.0, "blown"),
        (HORN, np.nan, "nothing steady"),
    ],
)
def test_what_a_test_shows(test: Test, shown: float, words: str) -> None:
    assert shown_words(bike(), test, shown) == words


def test_how_it_is_said_of_what_did_not_happen() -> None:
    h = bike()
    assert would_have(h, HORN, 1.0) == "would have worked"
    assert would_have(h, HORN, 0.0) == "would have been dead"
    assert would_have(h, look("voltmeter"), 0.0) == "would have read 0 V"
    lamp = look("test-lamp")
    assert would_have(h, lamp, 0.0) == "would have been dark (0 V across it)"


def test_who_gives_the_reading() -> None:
    h = bike()
    assert subject_for(h, HORN) == "the horn"
    assert subject_for(h, TAIL) == "the rear lamp's tail filament"
    assert subject_for(h, look("test-lamp")) == "the test lamp"
    assert subject_for(h, look("ammeter")) == "the clamp"
    assert subject_for(h, look("ohmmeter")) == "the meter"


@pytest.mark.parametrize(
    ("value", "words"),
    [(12.3456, "12.3"), (0.0521, "0.05"), (1e-7, "0"), (-0.001, "0"), (1234.6, "1235")],
)
def test_no_more_figures_than_a_meter_has(value: float, words: str) -> None:
    assert figure(value) == words
