"""What a rider can say of a bike, and the rigs that are offered on the bench."""

import pytest

import harness
from harness.complaints import complaints, rigs_offered
from harness.consumers import consumers, ordinary_rigs
from tests.harness.library import LOOMS, loom
from tests.harness.small_looms import BRAKE, HORN, ON, PARK, horn_and_tail


def test_every_consumer_can_be_complained_of_in_the_rig_where_it_should_work() -> None:
    found = complaints(horn_and_tail())
    assert [(row["device"], row["rig"]) for row in found] == [
        ("horn", HORN),
        ("rear-lamp.stop", BRAKE),
        ("rear-lamp.tail", ON),
        ("rear-lamp.tail", PARK),
    ]
    assert found[0]["name"] == "horn"
    assert found[0]["rig_words"] == "horn button held at PRESSED, key switch to ON"


@pytest.mark.parametrize("file", LOOMS)
def test_every_complaint_is_a_finding_that_can_be_taken(file: str) -> None:
    h = loom(file)
    found = complaints(h)
    assert len(found) == len(consumers(h))
    case = harness.Case(h)
    for row in found:
        finding = {"tool": "eye", "device": row["device"], "rig": row["rig"]}
        case.add(finding | {"reads": "works"})
    assert case.conflict() is None
    assert case.faults()[0]["probability"] < 1


def test_the_rigs_offered_are_the_ordinary_ones_the_rest_first() -> None:
    h = horn_and_tail()
    found = rigs_offered(h)
    assert found[0] == {"rig": {}, "words": "everything at rest"}
    assert len(found) == len(ordinary_rigs(h))
    assert all(harness.rig_from(h, row["rig"]) in ordinary_rigs(h) for row in found)
