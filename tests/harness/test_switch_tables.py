"""Switches: positions, groups, contacts."""

import pytest

from harness.files import loads
from harness.kinds import Switch
from tests.harness.written import GOOD, only_problem, problems_of, spoiled, swapped

JOINS = 'joins = { ON = [["30", "15", "57"]], PARK = [["30", "57"]] }'


def test_the_first_position_is_the_rest_one_and_joins_nothing_here() -> None:
    switch = loads(GOOD).devices["key-switch"].spec
    assert isinstance(switch, Switch)
    assert switch.positions == ("OFF", "ON", "PARK")
    assert switch.groups("OFF") == ()
    assert switch.groups("ON") == (("30", "15", "57"),)
    assert (switch.momentary, switch.ohms) == (False, 0.01)


def test_joins_stand_in_the_order_of_positions() -> None:
    turned = 'joins = { PARK = [["30", "57"]], ON = [["30", "15", "57"]], OFF = [] }'
    text = swapped(JOINS, turned)
    assert (
        loads(text).devices["key-switch"].spec == loads(GOOD).devices["key-switch"].spec
    )


def test_a_rest_position_may_join_pins() -> None:
    # a brake or oil-pressure switch that is closed at rest
    text = swapped(JOINS, 'joins.OFF = [["30", "15"], ["57", "58"]]')
    switch = loads(text).devices["key-switch"].spec
    assert isinstance(switch, Switch)
    assert switch.groups("OFF") == (("30", "15"), ("57", "58"))


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ('"PARK"]', '"PARK", "ON"]', "a second position"),
        ('"PARK"]', '"PARK", "P K"]', "cannot be an id"),
        ('"PARK"]', '"PARK", 3]', "a whole number in a list of texts"),
        ('["OFF", "ON", "PARK"]', '["OFF"]', "two positions or more"),
        (JOINS, "joins = 3", "not a table of positions"),
        (JOINS, "joins = {}", "joins nothing"),
        (JOINS, "joins = { ON = [] }", "joins nothing"),
        (JOINS, 'joins = { ON = "30" }', "not a list of groups"),
        (JOINS, 'joins = { ON = ["30", "15"] }', "text where a list of texts"),
        ('["30", "57"]', '["30"]', "two pins or more"),
        ('["30", "57"]', '["30", "57", "30"]', "names a pin twice"),
        ('["30", "57"]', '["30", "5.7"]', "cannot be a pin"),
        ('["30", "57"]', '["30", "57"], ["57", "30"]', "joined twice"),
        ('["30", "57"]', '["30", "57"], ["30", "57"]', "joined twice"),
        ("PARK = [[", "LOCK = [[", 'a position "LOCK" that is not listed'),
        (JOINS, JOINS + "\nmomentary = 1", "momentary is a whole number"),
    ],
)
def test_what_a_switch_refuses(old: str, new: str, what: str) -> None:
    problems = problems_of(swapped(old, new))
    assert any(what in problem.what for problem in problems)
    assert all(problem.line for problem in problems)


def test_contacts_whose_names_would_run_together_are_refused() -> None:
    # "a" to "b-c" and "a-b" to "c" would both be the segment ...a-b-c
    groups = 'joins = { ON = [["a", "b-c"], ["a-b", "c"], ["30", "15", "57"]] }'
    assert "joined twice" in spoiled(JOINS, groups).what


@pytest.mark.parametrize("key", ["positions", "joins"])
def test_what_a_switch_must_have(key: str) -> None:
    lines = [line for line in GOOD.split("\n") if not line.startswith(key)]
    problem = only_problem("\n".join(lines))
    assert problem.what == f"{key} is missing"
    assert f"{key} = " in problem.mend


def test_a_misspelt_position_is_told_with_the_near_one() -> None:
    assert 'did you mean "PARK"' in spoiled("PARK = [[", "PRAK = [[").mend
