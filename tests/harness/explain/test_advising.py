"""A test worth making, as plain data and plain sentences."""

import numpy as np

from harness.advice import Ranked
from harness.case import Case
from harness.explain.advising import SUSPECTS_NAMED, advice_data, offered_data
from harness.findings import finding_from
from harness.segments import Fault
from harness.sets import FaultSet
from tests.harness.conflict.cases import TAIL, bike
from tests.harness.hunting import as_test
from tests.harness.small_looms import DEAD_HORN, HORN

SETS: list[FaultSet] = [
    (),
    (Fault("wire:5", "open"),),
    (Fault("wire:5", "resistive", 3.0),),
    (Fault("wire:5", "resistive", 30.0),),
]
AT_RETURN = {"rig": HORN, "tool": "voltmeter", "probe": "horn.2", "reads": 1.0}
RANKED = Ranked(
    test=finding_from(bike(), AT_RETURN, id_="x").test,
    bits=1.5,
    minutes=2.1,
    groups=np.array([0, 2, 1, 1]),
    shown=np.array([0.05, 12.4, 4.7, 7.0]),
    worth=1.5 / 2.1,
)
WEIGHT = np.array([0.2, 0.5, 0.2, 0.1])


def test_advice_says_what_each_reading_would_mean() -> None:
    found = advice_data(bike(), RANKED, SETS, WEIGHT)
    means = [outcome["means"] for outcome in found["outcomes"]]
    assert means[0] == "Nothing is wrong (100%)."
    # Sizes of a bad contact are one way to be bad.
    assert means[1].endswith("makes bad contact (100%).")
    assert means[2].endswith("is open (100%).")
    assert (found["bits"], found["minutes"]) == (1.5, 2.1)
    assert found["tool"] == "voltmeter"
    assert found["steps"]


def test_whoever_offers_a_test_says_what_its_readings_mean() -> None:
    found = offered_data(bike(), RANKED, WEIGHT, lambda joint: f"{joint.sum():.1f}")
    assert [outcome["means"] for outcome in found["outcomes"]] == ["0.2", "0.3", "0.5"]


def test_no_more_than_three_suspects_are_named() -> None:
    case = Case(bike())
    for advice in case.advise(limit=10):
        for outcome in advice["outcomes"]:
            assert outcome["means"].count("%)") <= SUSPECTS_NAMED


def test_what_a_reading_means_agrees_with_what_it_then_leaves() -> None:
    case = Case(bike())
    told = (DEAD_HORN, {**TAIL, "reads": "works"})
    for finding in told:
        case.add(finding)
    best = case.advise(limit=1)[0]
    for outcome in best["outcomes"]:
        after = Case(bike())
        for finding in (*told, as_test(best) | {"reads": outcome["example"]}):
            after.add(finding)
        words = after.faults(limit=1)[0]["words"].split(" (about")[0]
        assert words.lower() in outcome["means"].lower()
