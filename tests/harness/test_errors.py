"""Problems as a person reads them: which file, which line, what, and what mends it."""

import pytest

from harness.errors import HarnessError, Problem, SingularNetwork

HORN = Problem("no device is called 'hron'", "wires[3].to", "did you mean horn?", 17)
FUSE = Problem("amps is -5", "devices.fuse.amps", "write a positive number", 9)
BASE = Problem("no pin 9", "wires[1].from", "pins are 1, 2", 4, file="base.toml")


def test_a_problem_is_one_sentence() -> None:
    assert str(FUSE) == "devices.fuse.amps: amps is -5; write a positive number"


def test_an_error_has_a_line_for_each_problem_in_order() -> None:
    error = HarnessError((FUSE, HORN), name="bike.toml")
    assert error.lines() == [f"bike.toml:9: {FUSE}", f"bike.toml:17: {HORN}"]
    assert str(error).splitlines() == error.lines()
    assert error.problems == (FUSE, HORN)


def test_a_problem_in_another_file_names_that_file() -> None:
    error = HarnessError((BASE,), name="bike.toml")
    assert error.lines() == [f"base.toml:4: {BASE}"]


@pytest.mark.parametrize(
    ("line", "name", "start"),
    [(None, "", ""), (None, "bike.toml", "bike.toml: "), (3, "", "3: ")],
)
def test_what_is_not_known_of_the_place_is_left_out(
    line: int | None, name: str, start: str
) -> None:
    problem = Problem("it is so", "rig", "do so", line)
    assert HarnessError((problem,), name=name).lines() == [f"{start}{problem}"]


def test_a_harness_that_is_wrong_is_a_wrong_value() -> None:
    assert issubclass(HarnessError, ValueError)


def test_a_network_without_rest_names_its_reasons() -> None:
    error = SingularNetwork(("the relay chatters", "the lamps do not settle"))
    assert error.reasons == ("the relay chatters", "the lamps do not settle")
    assert str(error) == "the relay chatters; the lamps do not settle"
    assert isinstance(error, ArithmeticError)
