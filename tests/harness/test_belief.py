"""Belief: Bayes' rule on published figures, and what any engine must keep to."""

from functools import cache
from itertools import permutations
from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harness.belief import Belief, Rest, counted, sorted_set
from harness.case import Case
from harness.faults import Fault
from harness.findings import Finding, finding_from
from harness.model import Harness
from harness.predictions import predictions_for
from harness.weighing import believe
from tests.harness.small_looms import HORN, ON, PARK, horn_and_tail

BAD = Fault("wire:1", "open")


@cache
def bike() -> Harness:
    return horn_and_tail()


def told(prevalence: float, *chances: tuple[float, float]) -> float:
    """Return the belief in a fault after tests, each given as its two chances.

    A pair is the chance of the reading with the fault there, and without it.
    """
    likelihood = np.log(np.array([[without, there] for there, without in chances]))
    belief = Belief(
        sets=((), (BAD,)),
        log_prior=np.log([1 - prevalence, prevalence]),
        findings=(),
        log_likelihood=likelihood,
    )
    assert belief.probability.sum() == pytest.approx(1.0)
    return float(belief.probability[1])


@pytest.mark.parametrize(
    ("prevalence", "sensitivity", "specificity", "published"),
    [
        # G11, encyclopaedia article on Bayes' theorem [pub H]: 19 %, 21 %, 49 %.
        (0.05, 0.90, 0.80, 0.1915),
        (0.05, 1.00, 0.80, 0.2083),
        (0.05, 0.90, 0.95, 0.4865),
        # G12, the same article [pub H]; the mammogram problem [answer calc H].
        (0.005, 0.99, 0.99, 0.33221),
        (0.01, 0.80, 0.904, 0.0776),
    ],
)
def test_a_positive_reading_leaves_the_published_belief(
    prevalence: float, sensitivity: float, specificity: float, published: float
) -> None:
    found = told(prevalence, (sensitivity, 1 - specificity))
    assert found == pytest.approx(published, abs=5e-5)


def test_a_negative_reading_leaves_the_rest() -> None:
    # G11 [calc H].
    assert told(0.05, (1 - 0.90, 0.80)) == pytest.approx(0.0065, abs=5e-5)


def test_a_second_independent_reading_counts_again() -> None:
    # G13 [calc H].
    positive = (0.90, 1 - 0.80)
    assert told(0.05, positive, positive) == pytest.approx(0.5159, abs=5e-5)


def test_the_same_reading_taken_twice_counts_once() -> None:
    # G13 [calc H]: twice by the same hand is not independent evidence.
    finding = {"rig": PARK, "tool": "test-lamp", "probe": "rear-lamp.T"}
    dark = finding | {"reads": "dark"}
    once, twice = Case(bike()), Case(bike())
    once.add(dark)
    twice.add(dark)
    before = twice.faults()
    twice.add(dark)
    assert twice.faults() == before == once.faults()
    assert len(twice.findings) == 2, "it is kept, though it is no more evidence"


def test_another_reading_of_the_same_test_is_evidence() -> None:
    case = Case(bike())
    finding = {"rig": PARK, "tool": "test-lamp", "probe": "rear-lamp.T"}
    case.add(finding | {"reads": "dark"})
    before = case.faults()
    case.add(finding | {"reads": "lit"})
    assert case.faults() != before
    assert len(counted(case.findings)) == 2


# G15, probability theory [calc H]: what any engine must keep to.

FINDINGS: tuple[dict[str, object], ...] = (
    {"rig": HORN, "tool": "eye", "device": "horn", "reads": "dead"},
    {"rig": ON, "tool": "eye", "device": "rear-lamp.tail", "reads": "works"},
    {"rig": PARK, "tool": "eye", "device": "rear-lamp.tail", "reads": "weak"},
    {"rig": HORN, "tool": "test-lamp", "probe": "horn.1", "reads": "dark"},
    {"rig": HORN, "tool": "test-lamp", "probe": "horn-button.1", "reads": "lit"},
    {"rig": ON, "tool": "voltmeter", "probe": "key-switch.15", "reads": 12.3},
    {"rig": HORN, "tool": "voltmeter", "probe": "horn.2", "reads": 11.9},
    {"rig": {}, "tool": "eye", "device": "main-fuse", "reads": "intact"},
    {
        "rig": {"battery-lead": "off"},
        "tool": "ohmmeter",
        "probe": "horn.1",
        "clip": "horn.2",
        "reads": 4.9,
    },
)


def alike(one: Belief, two: Belief) -> None:
    """Check that two beliefs say the same, whatever the order of their rows.

    Where two sets are as light as each other to the last bit, either may be left among
    the rest; neither may matter.
    """
    both = [faults for faults in one.sets if faults in two.row_of]
    here = one.probability[[one.row_of[faults] for faults in both]]
    there = two.probability[[two.row_of[faults] for faults in both]]
    same = set(one.sets) == set(two.sets)
    assert there == pytest.approx(here, rel=1e-6 if same else 1e-3)
    assert two.unweighed == pytest.approx(one.unweighed, rel=1e-3, abs=1e-4)
    for belief in (one, two):
        only_here = [i for i, f in enumerate(belief.sets) if f not in both]
        assert float(belief.probability[only_here].sum()) < 1e-3


subsets = st.lists(st.sampled_from(range(len(FINDINGS))), unique=True, max_size=5)


def read(numbers: list[int]) -> list[Finding]:
    return [finding_from(bike(), FINDINGS[n], id_=f"f{n}") for n in numbers]


def belief_after(numbers: list[int]) -> Belief:
    return believe(bike(), read(numbers))


@settings(deadline=None, max_examples=40)
@given(subsets)
def test_probabilities_sum_to_one(numbers: list[int]) -> None:
    belief = belief_after(numbers)
    p = belief.probability
    assert float(p.sum()) + belief.unweighed == pytest.approx(1.0)
    assert float(p.min()) >= 0.0
    shares = [share for _, share, _ in belief.explanations()]
    assert sum(shares) + belief.unweighed == pytest.approx(1.0)
    assert shares == sorted(shares, reverse=True)
    of_segments = belief.by_segment()
    assert min(of_segments.values()) >= 0.0
    assert max(of_segments.values()) <= 1.0 + 1e-9
    # In the pairs of the rest, two segments are bad or, of crossed ones, up to four.
    bad = sum(
        share * len({s for f in faults for s in f.segments})
        for faults, share in zip(belief.sets, p.tolist(), strict=True)
    )
    rest = sum(of_segments.values()) - bad
    assert 2 * belief.unweighed - 1e-6 <= rest <= 4 * belief.unweighed + 1e-6


@settings(deadline=None, max_examples=40)
@given(subsets, st.randoms(use_true_random=False))
def test_the_order_of_the_findings_does_not_matter(
    numbers: list[int], random: Random
) -> None:
    shuffled = list(numbers)
    random.shuffle(shuffled)
    alike(belief_after(numbers), belief_after(shuffled))


def test_every_order_of_four_findings_gives_one_belief() -> None:
    orders = [belief_after(list(order)) for order in permutations((0, 1, 4, 6))]
    for belief in orders[1:]:
        alike(orders[0], belief)


@settings(deadline=None, max_examples=40)
@given(subsets)
def test_a_finding_that_every_fault_predicts_alike_changes_nothing(
    numbers: list[int],
) -> None:
    # The key off and a lamp on two pins that nothing feeds: dark whatever is wrong.
    idle = finding_from(
        bike(),
        {
            "tool": "test-lamp",
            "probe": "tail-plug.2b",
            "clip": "horn.1",
            "reads": "dark",
        },
        id_="idle",
    )
    known = predictions_for(bike())
    likely = known.log_likelihood(idle)
    assert float(np.ptp(likely)) == pytest.approx(0.0, abs=1e-9)
    with_it = believe(bike(), [*read(numbers), idle])
    without = belief_after(numbers)
    # Sets of next to no weight may be weighed in the one case and not in the other.
    after = {ways: p for ways, p, _ in with_it.explanations()}
    for ways, p, _ in without.explanations():
        if p > 1e-4:
            assert after[ways] == pytest.approx(p, rel=1e-6)
    assert with_it.unweighed == pytest.approx(without.unweighed, rel=1e-6, abs=1e-9)


@given(st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=30))
def test_weights_become_probabilities_without_overflow(logs: list[float]) -> None:
    sets = tuple((Fault(f"wire:{k}", "open"),) for k in range(len(logs)))
    weight = np.array(logs)
    belief = Belief(sets, weight, (), np.zeros((0, len(logs))))
    p = belief.probability
    assert np.isfinite(p).all()
    assert float(p.sum()) == pytest.approx(1.0)
    assert p.max() == p[int(np.argmax(logs))] == p[belief.top]


# ---- Sets of faults -------------------------------------------------------------

WORSE, BOTH = Fault("wire:2", "resistive", 3.0), Fault("wire:2", "resistive", 30.0)
PAIR = sorted_set(WORSE, BAD)


def of_sets(weights: dict[tuple[Fault, ...], float], rest: Rest) -> Belief:
    """Return a belief of these weights, before any finding."""
    log_prior = np.log(np.array(list(weights.values())))
    return Belief(tuple(weights), log_prior, (), np.zeros((0, len(weights))), rest)


def test_what_is_only_estimated_keeps_its_share() -> None:
    rest = Rest(float(np.log(0.25)), {"wire:1": 0.8, "wire:7": 1.0, "wire:8": 0.2})
    belief = of_sets({(): 0.25, (BAD,): 0.25, PAIR: 0.25}, rest)
    assert belief.unweighed == pytest.approx(0.25)
    assert belief.probability == pytest.approx([0.25, 0.25, 0.25])
    assert belief.by_segment() == pytest.approx(
        {"wire:1": 0.25 + 0.25 + 0.2, "wire:2": 0.25, "wire:7": 0.25, "wire:8": 0.05}
    )


def test_sizes_of_a_bad_contact_are_one_explanation() -> None:
    rest = Rest(float("-inf"), {})
    belief = of_sets({(): 0.3, (BAD,): 0.25, (WORSE,): 0.25, (BOTH,): 0.2}, rest)
    ways = [(way, likeliest) for way, _, likeliest in belief.explanations()]
    assert ways[0] == ((("wire:2", "resistive", ""),), (WORSE,))
    assert [share for _, share, _ in belief.explanations()] == pytest.approx(
        [0.45, 0.3, 0.25]
    )
    assert belief.top == 0, "of the single rows nothing wrong is the likeliest"


def test_a_set_is_the_same_whichever_fault_is_named_first() -> None:
    assert sorted_set(BAD, WORSE) == sorted_set(WORSE, BAD) == (BAD, WORSE)
    belief = of_sets({(): 0.5, (BAD,): 0.3, PAIR: 0.2}, Rest(float("-inf"), {}))
    assert belief.row_of[sorted_set(WORSE, BAD)] == 2
    assert belief.rows_of("wire:1") == [1], "rows of a fault that is there alone"
    assert belief.rows_of("wire:2") == []


def test_a_crossed_wire_makes_both_segments_bad() -> None:
    crossed = Fault("wire:1", "crossed", other="wire:2")
    belief = of_sets({(): 0.4, (crossed,): 0.6}, Rest(float("-inf"), {}))
    assert belief.by_segment() == pytest.approx({"wire:1": 0.6, "wire:2": 0.6})
    assert belief.rows_of("wire:1") == belief.rows_of("wire:2") == [1]
