"""Stop advice in a hunt: the next test against changing the likeliest part now."""

from harness.case import Case
from harness.stopping import Costs
from tests.harness.small_looms import DEAD_HORN, HORN, ON, TAIL_WORKS, horn_and_tail


def hunt() -> Case:
    case = Case(horn_and_tail())
    case.add(DEAD_HORN)
    case.add(TAIL_WORKS)
    return case


def test_an_unlikely_and_dear_part_is_not_changed_on_suspicion() -> None:
    dear = {f"wire:{k}": 500.0 for k in range(1, 13)} | {"device:horn": 500.0}
    found = hunt().stopping(Costs(a_minute=1.0, parts=dear))
    assert found is not None
    assert not found["stop"]
    assert "Test on" in found["words"]


def test_a_bulb_that_costs_next_to_nothing_is_changed() -> None:
    case = Case(horn_and_tail())
    case.add({"rig": ON, "tool": "eye", "device": "rear-lamp.tail", "reads": "dead"})
    case.add({"rig": HORN, "tool": "eye", "device": "horn", "reads": "works"})
    found = case.stopping(Costs(a_minute=0.02, parts={}))
    assert found is not None
    assert found["segment"] == "device:rear-lamp.tail"
    assert found["waste"] < found["hunt_cost"]


def test_where_nothing_is_suspected_there_is_nothing_to_stop() -> None:
    case = hunt()
    while advice := case.advise(limit=1):
        likeliest = max(advice[0]["outcomes"], key=lambda o: o["probability"])
        keys = ("rig", "tool", "probe", "clip", "device", "wire")
        test = {key: advice[0][key] for key in keys if key in advice[0]}
        case.add(test | {"reads": likeliest["example"]})
    assert case.isolated() is not None
