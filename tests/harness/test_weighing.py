"""Findings weighed one after another, and the belief that they come to."""

from collections.abc import Sequence
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harness.belief import Belief
from harness.case import Case
from harness.errors import HarnessError
from harness.faults import Fault
from harness.findings import Finding, finding_from
from harness.model import Harness
from harness.priors import Priors, beside_log_odds, log_priors
from harness.sets import FaultSet
from harness.weighing import Weighing, believe, sets_for
from tests.harness.hunting import reading
from tests.harness.library import WREN, loom
from tests.harness.small_looms import BRAKE, HORN, ON, horn_and_tail

EVERYTHING = 10**6
Given = dict[str, object]

HORN_SEEN: Given = {"rig": HORN, "tool": "eye", "device": "horn"}
STOP_SEEN: Given = {"rig": BRAKE, "tool": "eye", "device": "rear-lamp.stop"}
TAIL_SEEN: Given = {"rig": ON, "tool": "eye", "device": "rear-lamp.tail"}
RETURN_V: Given = {"rig": HORN, "tool": "voltmeter", "probe": "horn.2"}
STOP_V: Given = {"rig": BRAKE, "tool": "voltmeter", "probe": "rear-lamp.S"}
TAIL_V: Given = {"rig": ON, "tool": "voltmeter", "probe": "rear-lamp.T"}
OPEN_RETURN, STOP_WIRE = Fault("wire:5", "open"), Fault("wire:10", "open")
TAIL_WIRE = Fault("wire:7", "open")


@cache
def bike() -> Harness:
    return horn_and_tail()


def taken(faults: FaultSet, *tests: Given) -> list[Finding]:
    """Return what tests read on a bike with some faults."""
    return [
        finding_from(bike(), t | {"reads": reading(bike(), faults, t)}, id_=f"f{k}")
        for k, t in enumerate(tests, start=1)
    ]


def first(belief: Belief, count: int = 1) -> list[tuple[str, ...]]:
    """Return the segments of the best explanations."""
    best = belief.explanations()[:count]
    return [tuple(segment for segment, _, _ in ways) for ways, _, _ in best]


def share(belief: Belief, *faults: Fault) -> float:
    row = belief.row_of.get(tuple(sorted(faults)))
    return 0.0 if row is None else float(belief.probability[row])


def test_before_any_finding_belief_is_the_prior() -> None:
    belief = Weighing(bike(), all_pairs=EVERYTHING).belief()
    singles = np.exp(log_priors(bike()))
    pairs = 1.0 - float(belief.probability[: len(singles)].sum())
    assert belief.probability[: len(singles)] == pytest.approx(singles * (1.0 - pairs))
    assert belief.unweighed == pytest.approx(0.0, abs=1e-12)
    assert max(map(len, belief.sets)) == 2


def test_what_is_weighed_step_by_step_is_what_is_weighed_at_once() -> None:
    findings = taken((OPEN_RETURN,), HORN_SEEN, TAIL_SEEN, STOP_SEEN, RETURN_V)
    weighing = Weighing(bike())
    for finding in findings:
        weighing.add(finding)
        weighing.belief()
    at_once = believe(bike(), findings)
    stepwise = weighing.belief()
    assert set(stepwise.sets) == set(at_once.sets)
    for faults in at_once.sets:
        assert share(stepwise, *faults) == pytest.approx(share(at_once, *faults))


def test_a_copy_goes_on_by_itself() -> None:
    one, *others = taken((OPEN_RETURN,), HORN_SEEN, TAIL_SEEN, RETURN_V)
    weighing = Weighing(bike())
    weighing.add(one)
    before = weighing.belief()
    branch = weighing.copy()
    for finding in others:
        branch.add(finding)
    assert branch.belief().by_segment()["wire:5"] > 0.9
    again = weighing.belief()
    assert again.sets == before.sets
    assert again.probability.tolist() == before.probability.tolist()
    assert [f.id for f in weighing.findings] == ["f1"]


def test_a_finding_taken_twice_is_weighed_once() -> None:
    (finding,) = taken((OPEN_RETURN,), RETURN_V)
    once, twice = Weighing(bike()), Weighing(bike())
    for weighing, count in ((once, 1), (twice, 2)):
        for _ in range(count):
            weighing.add(finding)
    assert len(twice.findings) == 1
    assert twice.belief().probability.tolist() == once.belief().probability.tolist()


@pytest.mark.parametrize(
    "faults",
    [
        (OPEN_RETURN,),
        (Fault("wire:6", "earthed"),),
        (STOP_WIRE, OPEN_RETURN),
        (Fault("plug:tail-plug.3", "open"), Fault("wire:4", "resistive", 3.0)),
    ],
    ids=str,
)
def test_with_most_pairs_only_estimated_what_matters_is_the_same(
    faults: FaultSet,
) -> None:
    findings = taken(faults, HORN_SEEN, TAIL_SEEN, STOP_SEEN, RETURN_V, STOP_V)
    quick = believe(bike(), findings)
    slow = Weighing(bike(), all_pairs=EVERYTHING)
    for finding in findings:
        slow.add(finding)
    exact = slow.belief()
    assert len(quick.sets) < len(exact.sets) / 2
    for ways, probability, _ in exact.explanations():
        if probability < 0.01:
            break
        found = {w: p for w, p, _ in quick.explanations()}
        assert found[ways] == pytest.approx(probability, abs=0.01), ways
    assert quick.by_segment() == pytest.approx(exact.by_segment(), abs=0.02)


def test_two_faults_that_each_show_are_found_as_a_pair() -> None:
    faults = (STOP_WIRE, OPEN_RETURN)
    # A lamp's way is proved by the volts at its pin, a return's lack by the horn's.
    findings = taken(faults, HORN_SEEN, STOP_SEEN, TAIL_SEEN, RETURN_V, STOP_V)
    belief = believe(bike(), findings)
    top = belief.explanations()[0]
    assert len(top[0]) == 2
    assert belief.by_segment()["wire:5"] > 0.95
    singles = sum(p for ways, p, _ in belief.explanations() if len(ways) < 2)
    # A dead feed of both, and the volts at the horn's return misread.
    assert singles < 0.05


THREE = tuple(sorted((OPEN_RETURN, STOP_WIRE, TAIL_WIRE)))
PLUG_STOP_V: Given = {"rig": BRAKE, "tool": "voltmeter", "probe": "tail-plug.2b"}
PLUG_TAIL_V: Given = {"rig": ON, "tool": "voltmeter", "probe": "tail-plug.1b"}
OF_THREE: tuple[Given, ...] = (
    *(HORN_SEEN, STOP_SEEN, TAIL_SEEN, RETURN_V, STOP_V, TAIL_V),
    PLUG_STOP_V,
    PLUG_TAIL_V,
)


def test_where_no_pair_explains_the_findings_three_are_looked_for() -> None:
    belief = believe(bike(), taken(THREE, *OF_THREE))
    assert first(belief) == [("wire:10", "wire:5", "wire:7")]
    assert belief.explanations()[0][1] > 0.9


def test_the_prior_of_three_faults_is_that_of_independent_ones() -> None:
    belief = believe(bike(), taken(THREE, *OF_THREE))
    prior = log_priors(bike())
    alone = [float(prior[belief.row_of[(fault,)]]) for fault in THREE]
    wanted = sum(alone) + 2 * beside_log_odds(bike())
    assert float(belief.log_prior[belief.row_of[THREE]]) == pytest.approx(wanted)


def test_one_s_own_priors_are_taken() -> None:
    findings = taken((OPEN_RETURN,), HORN_SEEN, TAIL_SEEN)
    plain = believe(bike(), findings)
    often = believe(bike(), findings, {("wire:5", "open"): 500.0})
    assert first(plain) != [("wire:5",)]
    assert first(often) == [("wire:5",)]
    lonely = Priors.of(bike())
    lonely = Priors(lonely.rates, further_faults=1e-9)
    alone = believe(bike(), findings, lonely)
    pairs = sum(p for ways, p, _ in alone.explanations() if len(ways) > 1)
    assert pairs + alone.unweighed < 1e-6


def test_priors_of_another_loom_are_refused() -> None:
    with pytest.raises(HarnessError, match="no such segment"):
        Weighing(bike(), {("wire:99", "open"): 1.0})


def test_readings_of_sets_are_shared_by_all_hunts_on_a_loom() -> None:
    assert sets_for(bike()) is sets_for(horn_and_tail())
    assert Weighing(bike()).sets is Weighing(bike()).sets


# ---- What any engine must keep to (G15, probability theory [calc H]) --------------

POSSIBLE: tuple[Given, ...] = (
    HORN_SEEN | {"reads": "dead"},
    STOP_SEEN | {"reads": "works"},
    TAIL_SEEN | {"reads": "weak"},
    RETURN_V | {"reads": 12.1},
    {"rig": HORN, "tool": "ammeter", "wire": "4", "reads": 0.02},
)
IMPOSSIBLE: tuple[Given, ...] = (
    {"rig": HORN, "tool": "voltmeter", "probe": "horn.1", "reads": -9.0},
    {"rig": ON, "tool": "voltmeter", "probe": "key-switch.15", "reads": 25.0},
    {"tool": "test-lamp", "probe": "tail-plug.2b", "clip": "horn.1", "reads": "lit"},
    {"rig": HORN, "tool": "ammeter", "wire": "5", "reads": -30.0},
)
some = st.lists(st.sampled_from(range(len(POSSIBLE))), unique=True, max_size=3)


def case_of(findings: Sequence[Given]) -> Case:
    case = Case(bike())
    for finding in findings:
        case.add(finding)
    return case


@settings(deadline=None, max_examples=25)
@given(some, st.sampled_from(range(len(IMPOSSIBLE))))
def test_a_finding_that_no_fault_could_give_is_named_by_the_conflict(
    numbers: list[int], wrong: int
) -> None:
    case = case_of([*(POSSIBLE[n] for n in numbers), IMPOSSIBLE[wrong]])
    conflict = case.conflict()
    assert conflict is not None
    assert f"f{len(numbers) + 1}" in conflict["findings"]
    total = float(case.belief.probability.sum()) + case.belief.unweighed
    assert total == pytest.approx(1.0)


@settings(deadline=None, max_examples=12)
@given(some)
def test_no_advised_test_tells_less_than_nothing_or_more_than_its_outcomes_can(
    numbers: list[int],
) -> None:
    case = case_of([POSSIBLE[n] for n in numbers])
    for ranked in case.survey.ranked:
        outcomes = len(np.unique(ranked.groups))
        most = {"test-lamp": 3, "eye": 3}.get(ranked.test.tool, outcomes)
        assert 0.0 <= ranked.bits <= np.log2(most) + 1e-9, ranked.test


# ---- Contacts that open only when the loom is moved -------------------------------

MOVING: Given = {"moving": True}
LOOSE = {
    "wire:1",
    "wire:2",
    "wire:13",
    "wire:3",
    "wire:4",
    "wire:5",
    "switch:horn-button.PRESSED.1-2",
    "switch:key-switch.ON.30-15",
}


def test_a_horn_that_cuts_out_only_when_moved_has_a_loose_contact() -> None:
    case = case_of(
        [
            HORN_SEEN | {"reads": "works"},
            TAIL_SEEN | {"reads": "works"},
            STOP_SEEN | {"reads": "works"},
            HORN_SEEN | MOVING | {"reads": "dead"},
        ]
    )
    best = case.belief.explanations()
    loose = [faults for _, p, faults in best if p > 0.02]
    assert loose
    assert all(len(faults) == 1 and faults[0].moved for faults in loose)
    assert {faults[0].segment for faults in loose} <= LOOSE
    assert sum(case.belief.by_segment()[name] for name in LOOSE) > 0.9
    assert case.conflict() is None, "findings at rest do not refute it"


def test_an_open_contact_is_refuted_at_rest_and_a_loose_one_is_not() -> None:
    findings = [
        finding_from(bike(), f, id_=f"f{k}")
        for k, f in enumerate(
            [HORN_SEEN | {"reads": "works"}, HORN_SEEN | MOVING | {"reads": "dead"}]
        )
    ]
    belief = believe(bike(), findings)
    loose = Fault("wire:5", "open", moved=True)
    assert share(belief, loose) > 50 * share(belief, OPEN_RETURN)
    at_rest = believe(bike(), findings[:1])
    sound = share(at_rest) / share(at_rest, loose)
    prior = np.exp(log_priors(bike()))
    wanted = prior[0] / prior[belief.row_of[(loose,)]]
    assert sound == pytest.approx(wanted), "at rest nothing speaks for or against it"


def test_wiggling_closes_in_on_the_loose_wire() -> None:
    # At the horn's feed the lamp stays lit while its return is pulled about.
    lamp: Given = {"rig": HORN, "tool": "test-lamp", "probe": "horn.1"}
    case = case_of(
        [
            HORN_SEEN | {"reads": "works"},
            HORN_SEEN | MOVING | {"reads": "dead"},
            RETURN_V | MOVING | {"reads": 12.3},
            lamp | MOVING | {"reads": "lit"},
        ]
    )
    top = case.faults(limit=1)[0]
    assert top["faults"] == [["wire:5", "open"]]
    assert top["intermittent"]
    assert top["probability"] > 0.9
    assert "moved" in top["words"]


def test_a_loose_contact_beside_an_open_one_is_found_as_a_pair() -> None:
    case = case_of(
        [
            STOP_SEEN | {"reads": "dead"},
            STOP_V | {"reads": 0.0},
            {"rig": BRAKE, "tool": "voltmeter", "probe": "tail-plug.2b", "reads": 12.4},
            HORN_SEEN | {"reads": "works"},
            TAIL_SEEN | {"reads": "works"},
            HORN_SEEN | MOVING | {"reads": "dead"},
            RETURN_V | MOVING | {"reads": 12.3},
        ]
    )
    ways, probability, faults = case.belief.explanations()[0]
    assert {segment for segment, _, _ in ways} == {"wire:10", "wire:5"}
    assert [f.moved for f in faults] == [False, True]
    assert probability > 0.8


def test_while_nothing_is_found_moving_a_loose_contact_is_no_more_than_its_prior() -> (
    None
):
    h = loom(WREN)
    dead = {"rig": {"horn-button": "PRESSED"}, "tool": "eye", "device": "horn"}
    belief = believe(h, [finding_from(h, dead | {"reads": "dead"}, id_="x")])
    moved = [i for i, s in enumerate(belief.sets) if len(s) == 1 and s[0].moved]
    assert float(belief.probability[moved].sum()) < 0.01
