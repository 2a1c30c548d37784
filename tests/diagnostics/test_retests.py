"""The proof of a repair: what failed must read as a healthy loom does."""

from dataclasses import dataclass, field
from typing import Any

import pytest

from diagnostics.retests import Healthy, Taken, demand_all_good, retests
from shop.domain.refusals import IllegalMove


@dataclass
class Row:
    """A finding as the proof sees it."""

    pk: int
    reads: str
    device: str = "horn"
    repairs_before: int = 0
    tool: str = "eye"
    probe: str = ""
    clip: str = ""
    wire: str = ""
    moving: bool = False
    rig: dict[str, Any] = field(default_factory=dict)

    @property
    def sequence(self) -> int:
        return self.pk


def all_should_work(finding: Taken) -> Healthy:
    return Healthy(words="works", fits=finding.reads == "works")


def test_only_what_failed_is_taken_again() -> None:
    before = [Row(1, "dead"), Row(2, "works", device="tail")]
    (item,) = retests(before, repairs_made=1, judge=all_should_work)
    assert (item.sequence, item.healthy, item.good) == (1, "works", None)


def test_the_same_test_failed_twice_is_one_item() -> None:
    before = [Row(1, "dead"), Row(2, "dead"), Row(3, "weak", device="tail")]
    found = retests(before, repairs_made=1, judge=all_should_work)
    assert [item.sequence for item in found] == [1, 3]


def test_a_test_taken_while_the_loom_was_moved_is_another_test() -> None:
    before = [Row(1, "dead"), Row(2, "dead", moving=True)]
    still = Row(3, "works", repairs_before=1)
    found = retests([*before, still], repairs_made=1, judge=all_should_work)
    assert [(item.sequence, item.good) for item in found] == [(1, True), (2, None)]


def test_a_clamp_on_another_wire_is_another_test() -> None:
    before = [Row(1, "0", tool="ammeter", device="", wire="3"),
              Row(2, "0", tool="ammeter", device="", wire="4")]  # fmt: skip
    found = retests(before, repairs_made=1, judge=all_should_work)
    assert [item.sequence for item in found] == [1, 2]


def test_the_same_consumer_in_another_rig_is_another_test() -> None:
    before = [Row(1, "dead"), Row(2, "dead", rig={"key": "ON"})]
    found = retests(before, repairs_made=1, judge=all_should_work)
    assert [item.sequence for item in found] == [1, 2]


def test_the_latest_reading_after_the_repair_decides() -> None:
    rows = [Row(1, "dead"), Row(2, "dead", repairs_before=1)]
    (bad,) = retests(rows, repairs_made=1, judge=all_should_work)
    assert (bad.again, bad.good) == (2, False)
    rows.append(Row(3, "works", repairs_before=1))
    (good,) = retests(rows, repairs_made=1, judge=all_should_work)
    assert (good.again, good.again_reads, good.good) == (3, "works", True)


def test_after_a_second_repair_everything_that_ever_failed_is_wanted() -> None:
    rows = [
        Row(1, "dead"),
        Row(2, "works", repairs_before=1),
        Row(3, "dead", device="tail", repairs_before=1),
    ]
    found = retests(rows, repairs_made=2, judge=all_should_work)
    assert [(item.sequence, item.good) for item in found] == [(1, None), (3, None)]


def test_a_repair_is_proven_when_all_is_good() -> None:
    rows = [Row(1, "dead"), Row(2, "works", repairs_before=1)]
    demand_all_good(retests(rows, repairs_made=1, judge=all_should_work))


@pytest.mark.parametrize(
    ("rows", "code", "words"),
    [
        ([], "nothing-to-prove", "No finding"),
        ([Row(1, "dead")], "retest-missing", "take finding 1 again"),
        (
            [Row(1, "dead"), Row(2, "dead", device="tail")],
            "retest-missing",
            "take findings 1 and 2 again",
        ),
        (
            [Row(1, "dead"), Row(2, "weak", repairs_before=1)],
            "retest-bad",
            "finding 1 still reads badly",
        ),
    ],
)
def test_a_repair_without_its_proof_is_not_proven(
    rows: list[Row], code: str, words: str
) -> None:
    items = retests(rows, repairs_made=1, judge=all_should_work)
    with pytest.raises(IllegalMove, match=words) as refused:
        demand_all_good(items)
    assert refused.value.code == code
