"""Belief: Bayes' rule on published figures, and what any engine must keep to."""

from functools import cache
from itertools import permutations
from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harness.belief import Belief, believe, counted, normalised
from harness.case import Case
from harness.faults import Fault
from harness.findings import Finding, finding_from
from harness.model import Harness
from harness.predictions import predictions_for
from harness.priors import log_priors
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
        faults=(None, BAD),
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

subsets = st.lists(st.sampled_from(range(len(FINDINGS))), unique=True, max_size=5)


def read(numbers: list[int]) -> list[Finding]:
    return [finding_from(bike(), FINDINGS[n], id_=f"f{n}") for n in numbers]


def belief_after(numbers: list[int]) -> Belief:
    return believe(predictions_for(bike()), log_priors(bike()), read(numbers))


@settings(deadline=None, max_examples=60)
@given(subsets)
def test_probabilities_sum_to_one(numbers: list[int]) -> None:
    belief = belief_after(numbers)
    p = belief.probability
    assert float(p.sum()) == pytest.approx(1.0)
    assert float(p.min()) >= 0.0
    by_mode = belief.by_mode()
    assert sum(share for _, share, _ in by_mode) == pytest.approx(1.0)
    assert [share for _, share, _ in by_mode] == sorted(
        (share for _, share, _ in by_mode), reverse=True
    )
    assert sum(belief.by_segment().values()) == pytest.approx(1.0 - float(p[0]))


@settings(deadline=None, max_examples=40)
@given(subsets, st.randoms(use_true_random=False))
def test_the_order_of_the_findings_does_not_matter(
    numbers: list[int], random: Random
) -> None:
    shuffled = list(numbers)
    random.shuffle(shuffled)
    one, two = belief_after(numbers), belief_after(shuffled)
    assert two.probability == pytest.approx(one.probability, rel=1e-9, abs=1e-300)


def test_every_order_of_four_findings_gives_one_belief() -> None:
    orders = [belief_after(list(order)) for order in permutations((0, 1, 4, 6))]
    for belief in orders[1:]:
        assert belief.probability == pytest.approx(orders[0].probability, rel=1e-9)


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
    assert float(np.ptp(likely)) == pytest.approx(0.0, abs=1e-12)
    with_it = believe(known, log_priors(bike()), [*read(numbers), idle])
    assert with_it.probability == pytest.approx(
        belief_after(numbers).probability, rel=1e-9, abs=1e-300
    )


@given(st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=30))
def test_weights_become_probabilities_without_overflow(logs: list[float]) -> None:
    p = normalised(np.array(logs))
    assert np.isfinite(p).all()
    assert float(p.sum()) == pytest.approx(1.0)
    assert p.max() == p[int(np.argmax(logs))]
