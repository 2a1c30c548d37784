"""Pairs of segments that are each other's only other way."""

from functools import cache

from harness.faults import Fault
from harness.files import loads
from harness.findings import Finding, Test
from harness.model import Harness
from harness.rig import rig_from
from harness.ways_round import only_together
from harness.weighing import believe, sets_for
from tests.harness.small_looms import HORN, HORN_AND_TAIL, chain, horn_and_tail

SECOND_EARTH = """
[[wires]]
id = "20"
from = "horn.2"
to = "frame.horn-too"
colour = "BK"
mm2 = 1.0
metres = 0.2
"""


@cache
def two_earths() -> Harness:
    """Return the bench example with a second earth wire at the horn."""
    return loads(HORN_AND_TAIL + SECOND_EARTH, name="two-earths.toml")


def test_two_earths_side_by_side_are_each_other_s_only_other_way() -> None:
    assert only_together(two_earths()) == (("wire:20", "wire:5"),)


def test_where_opening_either_is_enough_there_is_no_such_pair() -> None:
    assert only_together(horn_and_tail()) == ()
    assert only_together(chain(5)) == ()


def test_only_both_together_kill_the_horn() -> None:
    test = Test(rig_from(two_earths(), HORN), "eye", device="horn")
    one, other = Fault("wire:20", "open"), Fault("wire:5", "open")
    shown = sets_for(two_earths()).shown([test], [(one,), (other,), (one, other)])[0]
    assert shown[0] > 0.99
    assert shown[1] > 0.99
    assert shown[2] < 0.01


def test_a_pair_that_neither_member_hints_at_is_weighed_all_the_same() -> None:
    h = two_earths()
    rig = rig_from(h, HORN)
    findings = [
        Finding("a", Test(rig, "eye", device="horn"), "dead"),
        Finding("b", Test(rig, "voltmeter", "horn.2", "frame.battery"), "12.5", 12.5),
        Finding("c", Test(rig, "test-lamp", "horn.2", "frame.battery"), "lit"),
    ]
    # The lamp's current comes through the horn.
    belief = believe(h, findings)
    pair = (Fault("wire:20", "open"), Fault("wire:5", "open"))
    assert belief.probability[belief.row_of[pair]] > 0.5
