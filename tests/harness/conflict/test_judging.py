"""Readings and drawing are held against each other, each with its weight."""

import pytest

from harness.conflict.doubts import Conflict
from harness.conflict.judging import (
    DRAWINGS_NAMED,
    judged_conflict,
    weighed_doubts,
)
from harness.weighing import Weighing
from tests.harness.conflict.cases import (
    DARK_BEFORE,
    LIT_BEHIND,
    TAIL,
    bike,
    rebuilt,
    weighed,
)
from tests.harness.conflict.test_doubts import TWO_FAULTS, WORKS
from tests.harness.conflict.test_drawings import SWAPPED, around_the_tail, reads
from tests.harness.small_looms import DEAD_HORN


def judged(weighing: Weighing) -> Conflict | None:
    return judged_conflict(weighing.sets, weighing.belief(), weighing.beside)


def test_findings_that_agree_are_no_conflict() -> None:
    assert judged(weighed()) is None
    assert judged(weighed(DEAD_HORN, WORKS)) is None


def test_two_ordinary_faults_at_once_are_no_conflict() -> None:
    assert judged(weighed(*TWO_FAULTS)) is None


def test_a_loom_not_as_drawn_is_told_although_two_faults_would_explain_it() -> None:
    # Tail lamp dark with the lights on, lit with the brake on: swapped at the lamp.
    findings = reads(rebuilt(bike(), SWAPPED), around_the_tail())
    found = judged(weighed(*findings))
    assert found is not None
    assert found.drawings[0].redrawn == SWAPPED
    assert len(found.drawings) <= DRAWINGS_NAMED


def test_the_doubts_share_all_of_the_weight_and_the_likeliest_comes_first() -> None:
    findings = reads(rebuilt(bike(), SWAPPED), around_the_tail())
    weighing = weighed(*findings)
    found = judged(weighing)
    assert found is not None
    doubts = weighed_doubts(weighing.belief(), found)
    shares = [weighed.probability for weighed in doubts]
    assert sum(shares) == pytest.approx(1.0)
    assert shares == sorted(shares, reverse=True)
    assert doubts[0].supposed.redrawn == SWAPPED
    assert all(sum(p for _, p in w.ways) == pytest.approx(1.0) for w in doubts)


def test_misread_findings_are_doubts_with_what_stands_then() -> None:
    weighing = weighed({**TAIL, "reads": "works"}, DEAD_HORN, DARK_BEFORE, LIT_BEHIND)
    found = judged(weighing)
    assert found is not None
    doubts = weighed_doubts(weighing.belief(), found)
    readings = [w for w in doubts if w.doubted]
    assert {w.doubted for w in readings} == {("f3",), ("f4",)}
    assert all(not w.supposed.redrawn.moves for w in readings)
    assert all(w.supposed.faults for w in readings)
