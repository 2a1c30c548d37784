"""The engine's own advice against published and calculated figures on chains."""

import pytest

from harness.faults import Fault
from harness.findings import Tool
from harness.segments import Mode
from tests.harness.hunting import hunt, in_a_chain
from tests.harness.small_looms import bulbs_in_series, chain, only


@pytest.mark.parametrize("tool", ["voltmeter", None])
def test_one_open_bulb_of_ten_in_series_takes_four_measurements_at_most(
    tool: Tool | None,
) -> None:
    # G1, a measurement-science course text [pub H]: ten bulbs in series, one open, all
    # equally likely, a voltmeter: four measurements in the worst case. With the lamp
    # that the engine would rather have, since it is quicker, it is the same.
    h = bulbs_in_series(10)
    bulbs = [f"device:bulb-{k:02}" for k in range(1, 11)]
    dead: list[tuple[str, Mode]] = [(bulb, "dead") for bulb in bulbs]
    priors = only(h, dict.fromkeys(dead, 1.0))
    counts = []
    for bulb in bulbs:
        hunted = hunt(h, Fault(bulb, "dead"), priors=priors, tool=tool)
        assert hunted.suspects == [bulb]
        counts.append(hunted.tests)
    assert max(counts) == 4
    assert sum(counts) / len(counts) == pytest.approx(3.4)


@pytest.mark.parametrize(
    ("segments", "worst", "mean"),
    # G2, ceil(log2 N) and the best mean of yes/no tests in order [calc H].
    [(4, 2, 2.0), (5, 3, 2.4), (8, 3, 3.0), (10, 4, 3.4), (16, 4, 4.0)],
)
def test_a_chain_takes_the_best_number_of_tests(
    segments: int, worst: int, mean: float
) -> None:
    counts = []
    for hunted, fault in in_a_chain(chain(segments), [1.0] * segments):
        assert hunted.suspects == [fault.segment]
        counts.append(hunted.tests)
    assert max(counts) == worst
    assert sum(counts) / segments == pytest.approx(mean)


@pytest.mark.parametrize(
    ("shares", "best_ordered"),
    # G5, a chain can only be cut in order: the best ordered tree, not Huffman's, is the
    # floor. Gilbert & Moore 1959, Hu & Tucker 1971 [statement pub H, numbers calc H].
    [
        ((0.1, 0.6, 0.1, 0.2), 2.0),
        ((0.05, 0.4, 0.05, 0.4, 0.1), 2.45),
        ((0.3, 0.05, 0.3, 0.05, 0.3), 2.35),
    ],
)
def test_an_uneven_chain_takes_the_best_ordered_number_of_tests(
    shares: tuple[float, ...], best_ordered: float
) -> None:
    mean = 0.0
    for share, (hunted, fault) in zip(
        shares, in_a_chain(chain(len(shares)), shares), strict=True
    ):
        assert hunted.suspects == [fault.segment]
        mean += share * hunted.tests
    assert mean == pytest.approx(best_ordered)


def best_ordered(shares: tuple[float, ...]) -> float:
    """Return the least mean number of cuts that tells the parts of a chain apart."""
    if len(shares) == 1:
        return 0.0
    cuts = range(1, len(shares))
    return sum(shares) + min(
        best_ordered(shares[:cut]) + best_ordered(shares[cut:]) for cut in cuts
    )


@pytest.mark.parametrize(
    "shares",
    [
        (0.02, 0.30, 0.08, 0.15, 0.25, 0.05, 0.15),
        (0.4, 0.02, 0.02, 0.02, 0.02, 0.02, 0.5),
        (0.15, 0.05, 0.2, 0.1, 0.2, 0.05, 0.15, 0.1),
    ],
)
def test_greedy_advice_is_never_better_than_the_optimum_and_not_far_off(
    shares: tuple[float, ...],
) -> None:
    # G6, Campbell 1971 as cited [pub H]: dynamic programming gives the true optimum,
    # information gain can only be equal or worse [calc]. What is left under 0.05 is
    # not told apart, so that up to 0.05 of the hunts may end some tests early.
    optimum = best_ordered(shares)
    hunts = in_a_chain(chain(len(shares)), shares)
    mean = sum(p * hunted.tests for p, (hunted, _) in zip(shares, hunts, strict=True))
    assert optimum - 0.2 <= mean <= 1.05 * optimum
