"""A fault hunt from the front door: findings in, plain data out."""

import json
from functools import cache
from typing import Any

import pytest

import harness
from harness.case import Case
from harness.errors import HarnessError
from harness.faults import Fault
from harness.model import Harness
from tests.harness.hunting import hunt
from tests.harness.small_looms import (
    DEAD_HORN,
    HIGH_RETURN,
    HORN,
    NEVER,
    ON,
    TAIL_WORKS,
    chain,
    horn_and_tail,
    loom,
    only,
    wire,
)


@cache
def bike() -> Harness:
    return horn_and_tail()


def case_of(*findings: dict[str, Any]) -> Case:
    case = harness.Case(bike())
    for finding in findings:
        case.add(finding)
    return case


def test_findings_are_numbered_unless_they_bring_their_own_id() -> None:
    case = harness.Case(bike())
    assert case.add(DEAD_HORN) == "f1"
    assert case.add(TAIL_WORKS | {"id": "tail"}) == "tail"
    assert case.add(HIGH_RETURN) == "f3"


def test_a_hunt_starts_from_what_fails_most() -> None:
    case = case_of()
    faults = case.faults(limit=4000)
    assert faults[0]["faults"][0][1] in {"dead", "weak", "blown"}
    # The pairs that are not worth weighing one by one keep their share.
    pairs = case.belief.unweighed
    assert sum(row["probability"] for row in faults) + pairs == pytest.approx(1.0)
    pairs += sum(row["probability"] for row in faults if len(row["faults"]) > 1)
    nothing = next(row for row in faults if not row["faults"])
    # A bike comes in with nothing wrong twice in a hundred (NOTHING_WRONG), and one
    # in eighteen with two faults (FURTHER_FAULTS, common practice, no source).
    assert pairs == pytest.approx(1 / 18, rel=0.1)
    assert nothing["probability"] == pytest.approx(0.02 * (1 - pairs))
    assert nothing["words"] == "nothing is wrong"


def test_explanations_come_best_first_and_as_many_as_asked() -> None:
    case = case_of(DEAD_HORN)
    rows = case.faults(limit=7)
    assert len(rows) == 7
    shares = [row["probability"] for row in rows]
    assert shares == sorted(shares, reverse=True)
    assert case.faults(limit=3) == rows[:3]
    # A blown fuse is commoner than a dead horn, and nothing clears it yet.
    assert rows[0]["faults"] == [["fuse:main-fuse", "blown"]]


def test_a_bad_contact_comes_with_its_ohms() -> None:
    weak = DEAD_HORN | {"reads": "weak"}
    drop = {"rig": HORN, "tool": "voltmeter", "probe": "horn-button.1"}
    case = case_of(weak, drop | {"clip": "horn-button.2", "reads": 4.7})
    best = case.faults(limit=1)[0]
    assert best["faults"] == [["switch:horn-button.PRESSED.1-2", "resistive"]]
    # 4.7 V of 12.5 at the button and the rest at the horn's 4.8 ohm: about 3 ohm.
    assert best["ohms"] == pytest.approx(3.0, rel=0.3)
    assert "makes bad contact (about 3 ohm)" in best["words"]


def test_the_hunt_ends_with_the_segment_and_its_likelihood() -> None:
    assert case_of(DEAD_HORN).isolated() is None
    found = case_of(DEAD_HORN, TAIL_WORKS, HIGH_RETURN).isolated()
    assert found is not None
    assert found["segments"] == ["wire:5"]
    assert found["probability"] > 0.99


def test_a_healthy_bike_is_never_isolated() -> None:
    case = case_of(TAIL_WORKS, DEAD_HORN | {"reads": "works"})
    case.add(
        {
            "rig": ON | {"brake-switch": "PRESSED"},
            "tool": "eye",
            "device": "rear-lamp.stop",
            "reads": "works",
        }
    )
    assert case.isolated() is None


def test_all_that_is_given_back_is_plain_data() -> None:
    case = case_of(DEAD_HORN, TAIL_WORKS)
    for answer in (
        case.faults(),
        case.segments(),
        case.advise(),
        case.conflict(),
        case.isolated(),
        case_of(DEAD_HORN, DEAD_HORN | {"reads": "works"}).conflict(),
        case_of(DEAD_HORN, TAIL_WORKS, HIGH_RETURN).isolated(),
    ):
        assert json.loads(json.dumps(answer)) == answer


def test_advice_says_what_to_do_and_what_each_reading_would_mean() -> None:
    best = case_of(DEAD_HORN, TAIL_WORKS).advise(limit=1)[0]
    for key in ("rig", "tool", "bits", "minutes", "steps", "cautions", "words"):
        assert key in best
    for outcome in best["outcomes"]:
        assert set(outcome) == {"reads", "example", "probability", "means"}
        assert outcome["means"].endswith(".")


def test_rates_of_one_s_own_change_what_is_likely() -> None:
    plain = harness.Case(bike())
    corroded = harness.Case(bike(), priors={("wire:5", "open"): 500.0})
    for case in (plain, corroded):
        case.add(DEAD_HORN)
        case.add(TAIL_WORKS)
    assert plain.faults(1)[0]["faults"] == [["device:horn", "dead"]]
    assert corroded.faults(1)[0]["faults"] == [["wire:5", "open"]]


def test_faults_left_out_by_their_rates_are_never_found() -> None:
    h = chain(4)
    priors = only(h, {("wire:02", "open"): 1.0, ("wire:03", "open"): 1.0})
    # Dead, or it might be one of the two that opens only when it is moved.
    dead = {"tool": "eye", "device": "horn", "reads": "dead"}
    hunted = hunt(h, Fault("wire:03", "open"), priors=priors, told=[dead])
    assert hunted.suspects == ["wire:03"]
    assert hunted.tests == 1
    asked = {"wire:02", "wire:03"}
    others = [
        row["probability"]
        for row in hunted.case.faults(limit=400)
        if row["faults"] and row["faults"][0][0] not in asked
    ]
    assert sum(others) < 1e3 * NEVER


def test_two_cases_on_one_harness_do_not_meddle() -> None:
    one, two = case_of(DEAD_HORN), case_of()
    before = two.faults()
    one.advise()
    one.add(HIGH_RETURN)
    assert two.faults() == before
    assert two.advise(limit=3) == case_of().advise(limit=3)


def test_a_loom_that_meets_no_metal_is_refused() -> None:
    h = loom([], [wire("1", "battery.pos", "battery.neg", 5.0)])
    bare = Harness.build(
        title="No metal",
        volts=12.0,
        earth="negative",
        devices=[h.devices["battery"]],
        wires=[wire("1", "battery.pos", "battery.neg", 5.0)],
    )
    with pytest.raises(HarnessError, match="meets no body"):
        harness.Case(bare)
