"""Every noticeable single fault of both looms, played against the advice.

The bars: each is isolated to its class, with at most a quarter of the tests of walking
from the battery outward, and at most 0.6 of those of halving the path.
"""

import sys
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

import pytest

from harness.rehearsal import Played, play_all, weighted_mean
from tests.harness.library import LOOMS, loom

OF_WALKING, OF_HALVING = 0.25, 0.6


def _played(file: str) -> list[Played]:
    return play_all(loom(file))


@pytest.fixture(scope="module")
def rehearsals() -> Iterator[dict[str, list[Played]]]:
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as pool:
        yield dict(zip(LOOMS, pool.map(_played, LOOMS), strict=True))


@pytest.mark.parametrize("file", LOOMS)
def test_every_noticeable_fault_is_isolated_in_few_tests(
    file: str,
    rehearsals: dict[str, list[Played]],
    capsys: pytest.CaptureFixture[str],
) -> None:
    played = rehearsals[file]
    tests = weighted_mean(played, [p.tests for p in played])
    walking = weighted_mean(played, [p.walking_tests for p in played])
    halving = weighted_mean(played, [p.halving_tests for p in played])
    with capsys.disabled():
        sys.stdout.write(
            f" ({len(played)} faults: {tests:.2f} tests, at most "
            f"{max(p.tests for p in played)}; walking {walking:.2f}, halving "
            f"{halving:.2f}; ratios {tests / walking:.3f} and {tests / halving:.3f}) "
        )
    assert [p.fault for p in played if not p.isolated] == []
    assert tests <= OF_WALKING * walking
    assert tests <= OF_HALVING * halving
