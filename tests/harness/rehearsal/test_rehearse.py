"""Every fault of a small loom played against the advice, and what it comes to."""

import json
from functools import cache
from typing import Any

import pytest

from harness.faults import Fault
from harness.rehearsal import rehearse
from harness.rehearsal.chosen import noticeable_singles
from harness.rehearsal.play import Played
from harness.rehearsal.rehearse import play_all, summary
from tests.harness.library import WREN, loom


@cache
def rehearsed() -> dict[str, Any]:
    return rehearse(loom(WREN))


def test_every_noticeable_fault_of_the_small_loom_is_isolated() -> None:
    found = rehearsed()
    assert found["hunts"] == len(noticeable_singles(loom(WREN))) > 30
    assert found["not_isolated"] == []
    assert found["isolated"] == 1.0
    assert found["top"] > 0.9
    assert found["top_three"] > 0.99


def test_the_advice_needs_fewer_tests_than_walking_and_halving() -> None:
    found = rehearsed()
    assert found["tests"]["mean"] < found["halving_tests"] < found["walking_tests"]
    assert found["tests"]["mean"] <= found["tests"]["most"] <= 12
    assert found["minutes"]["mean"] <= found["minutes"]["most"]


def test_it_is_plain_data() -> None:
    assert json.loads(json.dumps(rehearsed())) == rehearsed()


def test_the_outcome_does_not_depend_on_how_many_processes_there_are() -> None:
    h, told = loom(WREN), []
    sets = [faults for faults, _ in noticeable_singles(h)][::7]
    alone = play_all(h, sets)
    split = play_all(
        h, sets, processes=2, progress=lambda done, of: told.append((done, of))
    )
    assert split == alone
    assert told[-1] == (len(sets), len(sets))
    assert [done for done, _ in told] == sorted(done for done, _ in told)


def test_what_hunts_come_to_is_weighted_by_how_likely_they_are() -> None:
    def hunt(isolated: bool, tests: int, rank: int) -> Played:
        return Played(
            faults=(Fault(f"wire:{tests}", "open"),),
            isolated=isolated,
            misled=False,
            suspects=1,
            tests=tests,
            minutes=2.0 * tests,
            rank=rank,
            stated=((0.9, isolated),),
            entropy_bits=3.0,
        )

    found = summary([(hunt(True, 2, 1), 3.0), (hunt(False, 6, 2), 1.0)])
    assert found["isolated"] == pytest.approx(0.75)
    assert found["tests"] == {"mean": pytest.approx(3.0), "most": 6}
    assert found["minutes"] == {"mean": pytest.approx(6.0), "most": 12.0}
    assert found["top"] == pytest.approx(0.75)
    assert found["top_three"] == pytest.approx(1.0)
    assert found["not_isolated"] == [[["wire:6", "open"]]]
    assert found["calibration_error"] == pytest.approx(0.15)


@pytest.mark.benchmark_bar
@pytest.mark.parametrize("pairs", [False, True])
def test_readings_that_are_wrong_now_and_then_are_part_of_a_rehearsal(
    pairs: bool,
) -> None:
    found = rehearse(loom(WREN), pairs=pairs, noise=0.05, seed=2, processes=2)
    assert found["isolated"] > 0.8
    assert "walking_tests" not in found
