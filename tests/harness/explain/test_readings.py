"""A band of a meter as it is said."""

from harness.explain.readings import reading


def test_readings_as_they_are_said() -> None:
    assert reading("lit") == "lit"
    assert reading({"from_v": None, "to_v": None}) == "anything"
    assert reading({"from_v": -12.0, "to_v": None}) == "-12 V or more"
    assert reading({"from_ohm": None, "to_ohm": 2.5}) == "under 2.5 ohm"
    assert reading({"from_a": 0.7, "to_a": 2.0}) == "0.7 to 2 A"
