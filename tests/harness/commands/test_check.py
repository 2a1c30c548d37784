"""``python -m harness check`` as a person or a script meets it."""

import json
from pathlib import Path

import pytest

from harness.files import load
from tests.harness.commands.shell import harness
from tests.harness.written import GOOD, line_of


@pytest.fixture
def bike(tmp_path: Path) -> Path:
    path = tmp_path / "bike.toml"
    path.write_text(GOOD, encoding="utf-8")
    return path


def test_a_good_file_is_told_in_words(bike: Path) -> None:
    shown = harness("check", str(bike))
    assert (shown.code, shown.err) == (0, "")
    assert shown.out.split("\n")[0] == f"{bike}: good"
    assert "Horn, tail and starter" in shown.out
    assert "12 V, negative earth" in shown.out
    assert "10: 1 battery, 1 body, 1 box" in shown.out
    assert "7, 3.9 m in all" in shown.out


def test_a_good_file_as_json(bike: Path) -> None:
    shown = harness("check", str(bike), "--json")
    assert (shown.code, shown.err) == (0, "")
    told = json.loads(shown.out)
    assert told["good"] is True
    assert told["devices"]["plug"] == 1
    assert (told["wires"], told["places"], told["metres"]) == (7, 2, 3.9)
    assert told["digest"] == load(bike).digest


def test_a_bad_file_is_told_a_problem_a_line(bike: Path) -> None:
    bike.write_text(
        GOOD.replace("amps = 15", "amps = 0").replace('"horn.2"', '"hron.2"'),
        encoding="utf-8",
    )
    shown = harness("check", str(bike))
    assert (shown.code, shown.out) == (1, "")
    line = line_of(GOOD, 'from = "horn.2"')
    first, second = shown.err.splitlines()
    assert first.startswith(f"{bike}:{line_of(GOOD, 'amps = 15')}: devices.main-fuse")
    assert second.startswith(f"{bike}:{line}: wires.4.from")


def test_a_bad_file_as_json_is_one_document(bike: Path) -> None:
    bike.write_text(GOOD.replace("amps = 15", "amp = 15"), encoding="utf-8")
    shown = harness("check", str(bike), "--json")
    assert shown.code == 1
    told = json.loads(shown.out)
    assert told["good"] is False
    (problem,) = told["problems"]
    assert problem["line"] == line_of(GOOD, "amps = 15")
    assert problem["mend"] == 'did you mean "amps"?'
    assert shown.err.count("\n") == 1


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    shown = harness("check", str(tmp_path / "none.toml"))
    assert shown.code == 1
    assert "cannot be read" in shown.err


def test_problems_of_a_base_name_the_base(bike: Path) -> None:
    bike.write_text(GOOD.replace("amps = 15", "amps = 0"), encoding="utf-8")
    variant = bike.parent / "variant.toml"
    variant.write_text('schema = 1\nextends = "bike.toml"\n', encoding="utf-8")
    shown = harness("check", str(variant))
    assert shown.code == 1
    assert shown.err.startswith(f"{bike}:")
