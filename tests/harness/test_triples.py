"""Where no pair explains the findings, three faults at once are looked for."""

from harness.misread import misread
from harness.triples import triples
from harness.weighing import believe
from tests.harness.test_weighing import OF_THREE, THREE, bike, first, taken


def test_three_open_wires_are_found_where_no_pair_explains_what_was_read() -> None:
    belief = believe(bike(), taken(THREE, *OF_THREE))
    assert first(belief) == [("wire:10", "wire:5", "wire:7")]
    assert not misread(belief)[:, belief.row_of[THREE]].any()
    assert any(len(faults) == 3 for faults in belief.sets)


def test_no_threes_are_weighed_where_one_fault_explains_everything() -> None:
    belief = believe(bike(), taken(THREE[:1], *OF_THREE))
    assert callable(triples)
    assert all(len(faults) < 3 for faults in belief.sets)
