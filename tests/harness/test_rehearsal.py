"""Every fault of a small loom played against the advice."""

import pytest

from harness.habits import Habits
from harness.predictions import predictions_for
from harness.priors import log_priors
from harness.rehearsal import Report, play, play_all, weighted_mean
from tests.harness.small_looms import horn_and_tail

H = horn_and_tail()


def test_every_noticeable_fault_of_the_small_loom_is_isolated() -> None:
    played = play_all(H)
    assert len(played) > 30
    assert [p.fault for p in played if not p.isolated] == []


def test_the_advice_needs_fewer_tests_than_walking() -> None:
    played = play_all(H)
    tests = weighted_mean(played, [p.tests for p in played])
    assert tests < weighted_mean(played, [p.walking_tests for p in played])


def test_only_what_changes_the_report_is_noticeable() -> None:
    predictions = predictions_for(H)
    report = Report(predictions)
    noticed = {predictions.faults[row] for row in report.noticeable}
    assert None not in noticed
    dead = {f.segment for f in noticed if f and f.mode == "dead"}
    assert {"device:horn", "device:rear-lamp.stop", "device:rear-lamp.tail"} <= dead


def test_a_healthy_bike_cannot_be_played() -> None:
    predictions = predictions_for(H)
    report, habits = Report(predictions), Habits(predictions)
    with pytest.raises(ValueError, match="nothing to find"):
        play(predictions, log_priors(H), report, 0, habits)
