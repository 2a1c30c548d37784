"""A rig is checked against its harness, filled in, and equal by content."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harness.errors import HarnessError, Problem
from harness.files import loads
from harness.model import Harness
from harness.rig import Rig, rig_from
from tests.harness.written import GOOD, swapped

WITH_BUTTON = (
    GOOD
    + """
[devices.horn-button]
kind = "switch"
momentary = true
positions = ["OUT", "PRESSED"]
joins = { PRESSED = [["1", "2"]] }
"""
)


BIKE = loads(WITH_BUTTON)


@pytest.fixture
def bike() -> Harness:
    return BIKE


def problems_of(h: Harness, mapping: object) -> tuple[Problem, ...]:
    with pytest.raises(HarnessError) as caught:
        rig_from(h, mapping)
    return caught.value.problems


def test_a_switch_that_is_not_named_is_at_rest(bike: Harness) -> None:
    rig = rig_from(bike, {"key-switch": "ON"})
    assert rig.switches == {"horn-button": "OUT", "key-switch": "ON"}
    assert rig.engine == "stopped"
    assert not rig.engine_running
    assert rig.battery_connected
    assert rig_from(bike) == rig_from(bike, {}) == rig_from(bike, {"engine": "stopped"})


def test_everything_a_rig_can_say(bike: Harness) -> None:
    mapping: dict[str, object] = {
        "key-switch": "PARK",
        "horn-button": "OUT",
        "engine": "running",
        "battery-lead": "off",
        "unplugged": ["tail-plug", "horn.1", "tail-plug"],
        "removed": ["main-fuse"],
        "jumpers": [["horn.2", "frame.a"], ["frame.a", "horn.2"]],
    }
    rig = rig_from(bike, mapping)
    assert rig.as_mapping() == {
        "battery-lead": "off",
        "engine": "running",
        "jumpers": [["frame.a", "horn.2"]],
        "key-switch": "PARK",
        "removed": ["main-fuse"],
        "unplugged": ["horn.1", "tail-plug"],
    }
    assert list(rig.as_mapping()) == sorted(rig.as_mapping())
    assert rig.engine_running
    assert not rig.battery_connected


@given(
    st.fixed_dictionaries(
        {},
        optional={
            "key-switch": st.sampled_from(["OFF", "ON", "PARK"]),
            "horn-button": st.sampled_from(["OUT", "PRESSED"]),
            "engine": st.sampled_from(["stopped", "running"]),
            "battery-lead": st.sampled_from(["on", "off"]),
            "unplugged": st.lists(st.sampled_from(["tail-plug", "horn.1", "frame.a"])),
            "removed": st.lists(st.sampled_from(["horn", "starter", "main-fuse"])),
            "jumpers": st.lists(
                st.permutations(["horn.1", "horn.2", "rear-lamp.T"]).map(
                    lambda p: p[:2]
                )
            ),
        },
    )
)
def test_the_smallest_mapping_gives_the_same_rig_again(
    mapping: dict[str, object],
) -> None:
    rig = rig_from(BIKE, mapping)
    again = rig_from(BIKE, json.loads(json.dumps(rig.as_mapping())))
    assert again == rig
    assert hash(again) == hash(rig)
    assert again.as_mapping() == rig.as_mapping()
    assert isinstance(rig, Rig)


@pytest.mark.parametrize(
    ("mapping", "where", "what", "mend"),
    [
        ({"keyswitch": "ON"}, "rig.keyswitch", "no switch", "key-switch"),
        ({"key-switch": "on"}, "rig.key-switch", 'no position "on"', "ON"),
        ({"key-switch": 1}, "rig.key-switch", "no position 1", "OFF, ON, PARK"),
        ({"key-switch": None}, "rig.key-switch", "no position", "OFF"),
        ({"horn": "ON"}, "rig.horn", "horn is a load, not a switch", "key-switch"),
        ({"engine": "on"}, "rig.engine", "no word for engine", "stopped, running"),
        ({"engine": True}, "rig.engine", "no word for engine", "stopped, running"),
        ({"battery-lead": "of"}, "rig.battery-lead", "no word", "on, off"),
        ({"unplugged": "tail-plug"}, "rig.unplugged", "list of names", '["..."]'),
        ({"unplugged": ["tail"]}, "rig.unplugged", "no plug", "tail-plug"),
        ({"unplugged": ["horn"]}, "rig.unplugged", "a load, not a plug", "removed"),
        ({"unplugged": ["horn.7"]}, "rig.unplugged", "no pin", "1, 2"),
        ({"unplugged": ["hron.1"]}, "rig.unplugged", "no device", "horn"),
        ({"unplugged": [1]}, "rig.unplugged", "not a name", "quotes"),
        ({"removed": ["fuse"]}, "rig.removed", "no device", "main-fuse"),
        ({"removed": ["frame"]}, "rig.removed", "is not taken out", "unplugged"),
        ({"jumpers": [["horn.1"]]}, "rig.jumpers", "two terminals", "horn.2"),
        ({"jumpers": ["horn.1"]}, "rig.jumpers", "two terminals", "horn.2"),
        ({"jumpers": 3}, "rig.jumpers", "list of pairs", "horn.2"),
        ({"jumpers": [["horn.1", "horn.1"]]}, "rig.jumpers", "itself", "another"),
        ({"jumpers": [["horn.1", "horn.x"]]}, "rig.jumpers", "no pin", "1, 2"),
        (["key-switch"], "rig", "a table of switches", "rig ="),
        ("ON", "rig", "a table of switches", "rig ="),
        ({3: "ON"}, "rig.3", "no switch", "key-switch"),
    ],
)
def test_what_is_not_on_the_bike_is_refused(
    bike: Harness, mapping: object, where: str, what: str, mend: str
) -> None:
    (problem,) = problems_of(bike, mapping)
    assert problem.where == where
    assert what in problem.what
    assert mend in problem.mend


NAMES = st.text(max_size=5) | st.sampled_from(
    ["key-switch", "horn", "horn.1", "tail-plug", "engine", "ON", "on", "frame.a"]
)
CHANCE = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | NAMES,
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(NAMES, inner, max_size=2)
    ),
    max_leaves=6,
)


@settings(max_examples=300, deadline=None)
@given(
    CHANCE
    | st.dictionaries(
        NAMES | st.sampled_from(["unplugged", "removed", "jumpers", "battery-lead"]),
        CHANCE,
        max_size=4,
    )
)
def test_whatever_comes_in_is_a_rig_or_clean_problems(mapping: object) -> None:
    try:
        rig = rig_from(BIKE, mapping)
    except HarnessError as error:
        texts = [str(problem) for problem in error.problems]
    else:
        texts = [str(rig.as_mapping())]
    assert texts
    assert all(text.isprintable() for text in texts)


def test_all_that_is_wrong_is_told_at_once(bike: Harness) -> None:
    mapping = {"lights": "ON", "key-switch": "X", "engine": 3, "removed": ["y", "z"]}
    assert len(problems_of(bike, mapping)) == 5


def test_a_jumper_across_the_battery_is_refused(bike: Harness) -> None:
    # safety: both poles joined by a lead alone burn whoever holds it
    across = {"jumpers": [["battery.pos", "horn.2"]]}
    (problem,) = problems_of(bike, across)
    assert "the jumpers short battery: jumper, 4, 5" in problem.what
    # with the lead off, the wire off the pole, or the battery out nothing can burn
    for safe in (
        {"battery-lead": "off"},
        {"unplugged": ["battery.neg"]},
        {"removed": ["battery"]},
    ):
        rig_from(bike, across | safe)


def test_one_harness_may_have_a_rig_that_another_has_not() -> None:
    two = loads(swapped('"PARK"]', '"PARK", "LOCK"]'))
    assert rig_from(two, {"key-switch": "LOCK"}).moved == (("key-switch", "LOCK"),)
