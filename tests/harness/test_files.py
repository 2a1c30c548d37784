"""Whole files: all or nothing, whatever comes in."""

import time
from pathlib import Path

import pytest

from harness.errors import HarnessError
from harness.files import from_source, load, loads
from harness.reading import Source
from tests.harness.written import GOOD, line_of, problems_of, swapped

ROOT = Path(__file__).parents[2]


def test_a_good_file_and_the_same_text_are_one_harness(tmp_path: Path) -> None:
    path = tmp_path / "bike.toml"
    path.write_text(GOOD, encoding="utf-8")
    assert load(path) == load(str(path)) == loads(GOOD)


def test_the_order_of_the_file_does_not_matter() -> None:
    head, *wires = GOOD.split("[[wires]]")
    turned = head + "".join("[[wires]]" + wire + "\n" for wire in reversed(wires))
    assert loads(turned) == loads(GOOD)
    assert list(loads(turned).wires) == list(loads(GOOD).wires)


def test_windows_line_ends_make_no_difference() -> None:
    assert loads(GOOD.replace("\n", "\r\n")) == loads(GOOD)


def test_the_shipped_circuits_all_load() -> None:
    files = sorted((ROOT / "tests" / "cases").glob("c[0-9]*.toml"))
    assert files
    for path in files:
        assert load(path).devices


def test_every_problem_comes_in_one_go_in_the_order_of_the_file() -> None:
    text = GOOD
    swaps = [
        ("schema = 1", "schema = 3"),
        ('place = "tray"', 'place = "try"'),
        ("amps = 15", "amps = -1"),
        ("PARK = [[", "PORK = [["),
        ("watts = 21", "watts = inf"),
        ('"RDWH"', '"ROD"'),
        ("mm2 = 1\n", "mm2 = 100\n"),
        ('"horn.2"', '"horn.9"'),
        ('id = "7"', 'id = "6"'),
    ]
    for old, new in swaps:
        text = swapped(old, new, text=text)
    problems = problems_of(text)
    assert [p.line for p in problems] == [line_of(GOOD, old) for old, _ in swaps]
    assert all(p.what and p.where and p.mend for p in problems)


def test_problems_print_as_file_line_and_what() -> None:
    with pytest.raises(HarnessError) as caught:
        loads(GOOD.replace("amps = 15", "amps = 0"), name="bike.toml")
    (line,) = caught.value.lines()
    assert line == (
        "bike.toml:22: devices.main-fuse.amps: amps is 0, which is not above zero;"
        " give it in amperes, above zero"
    )


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(HarnessError, match="cannot be read") as caught:
        load(tmp_path / "none.toml")
    assert caught.value.name == str(tmp_path / "none.toml")


def test_an_empty_file_says_what_a_harness_needs() -> None:
    assert {p.what for p in problems_of("")} == {
        "schema is missing",
        "volts is missing",
        "earth is missing",
        "there is no battery",
    }


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("devices = 3", "devices"),
        ("devices = [1]", "devices"),
        ("wires = 3", "wires"),
        ("[wires]", "wires"),
        ("wires = [1]", "wires"),
        ("places = 1", "places"),
        ("[devices]\nx = 1", "devices.x"),
        ("[[devices]]", "devices"),
        ("frames = 1", "frames"),
    ],
)
def test_sections_of_the_wrong_shape(text: str, where: str) -> None:
    assert where in {p.where for p in problems_of(text)}


def wires(count: int) -> str:
    return "".join(
        f'[[wires]]\nid = "x{n}"\nfrom = "j1.{n}"\nto = "frame.{n}"\nohms = 1\n'
        for n in range(count)
    )


def test_five_thousand_wires_are_the_most_and_load_quickly() -> None:
    started = time.perf_counter()
    assert len(loads(GOOD + wires(4993)).wires) == 5000
    assert time.perf_counter() - started < 10
    (problem,) = problems_of(GOOD + wires(4994))
    assert problem.what == "there are 5001 wires"


def test_a_file_of_nothing_but_problems_is_told_in_bearable_time() -> None:
    text = GOOD + wires(4993).replace("frame.", "fram.").replace('"j1.', '"j2.')
    devices = "".join(f'[devices.d{n}]\nkind = "body"\n' for n in range(4000))
    started = time.perf_counter()
    assert len(problems_of(text + devices)) == 2 * 4993
    assert time.perf_counter() - started < 20


def test_a_switch_of_very_many_positions_is_read_in_bearable_time() -> None:
    many = ", ".join(f'"P{n}"' for n in range(100_000))
    started = time.perf_counter()
    loads(swapped('"PARK"]', f'"PARK", {many}]'))
    assert time.perf_counter() - started < 10


def test_tables_that_did_not_come_from_toml() -> None:
    # a wire list brings its own lines: here, rows of a sheet
    data = {
        "schema": 1,
        "volts": 6,
        "earth": "positive",
        "devices": {"battery": {"kind": "battery"}, "horn": {"kind": "load"}},
        "wires": [{"id": "1", "from": "battery.neg", "to": "horn.1", "mm2": 1.0}],
    }
    source = Source(data, lambda path: {"devices": 4, "wires": 9}.get(str(path[0])))
    with pytest.raises(HarnessError) as caught:
        from_source(source, name="loom.csv")
    assert caught.value.lines() == [
        "loom.csv:4: devices.horn: ohms is missing; add ohms = ... or watts = ...",
        "loom.csv:9: wires.1: it has a size but no length; add metres, or give ohms",
    ]


def test_nothing_is_kept_of_a_file_that_failed() -> None:
    # loading twice, good after bad, gives what a fresh load gives
    assert problems_of(GOOD.replace("amps = 15", "amps = 0"))
    assert loads(GOOD).digest == loads(GOOD).digest
    assert not problems_of(GOOD)
