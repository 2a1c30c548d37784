"""Wires: ends, colour, size, length, resistance."""

import pytest

from harness.conductors import awg_area_mm2, ohms_per_metre
from harness.files import loads
from harness.kinds import CRIMP_OHM, MOUNT_OHM
from harness.model import Wire
from tests.harness.written import GOOD, only_problem, problems_of, spoiled, swapped

BARE = """\
schema = 1
volts = 12
earth = "negative"
[devices.battery]
kind = "battery"
[devices.j]
kind = "joint"
[[wires]]
id = "w"
from = "j.1"
to = "j.2"
"""


def wire(body: str) -> Wire:
    return loads(BARE + body).wires["w"]


def test_a_wire_has_the_metal_and_two_crimped_ends() -> None:
    # check value W5: 1.5 mm2 has 13.3 ohm a kilometre
    w = wire('mm2 = 1.5\nmetres = 2\ncolour = "rdwh"\nnote = "rubbed"')
    assert w.resistance_ohm == pytest.approx(2 * 0.0133 + 2 * CRIMP_OHM)
    assert (w.kind, w.colour, w.area_mm2, w.length_m) == ("wire", "RDWH", 1.5, 2.0)
    assert (w.note, w.line, w.awg) == ("rubbed", 8, None)


def test_a_gauge_goes_by_its_area_and_is_kept() -> None:
    w = wire("awg = 16\nmetres = 3")
    assert w.awg == 16
    assert w.area_mm2 == awg_area_mm2(16)
    assert w.conductor_ohms == pytest.approx(3 * ohms_per_metre(awg_area_mm2(16)))


def test_ohms_override_everything_and_keep_the_size() -> None:
    w = wire("ohms = 0.5\nmm2 = 1\nmetres = 2")
    assert (w.resistance_ohm, w.area_mm2, w.length_m) == (0.5, 1.0, 2.0)
    assert w.conductor_ohms is None
    assert wire("ohms = 0.5").resistance_ohm == 0.5
    assert wire("ohms = 0.5\nmetres = 1").resistance_ohm == 0.5


def test_a_mount_is_metal_on_metal() -> None:
    assert wire('kind = "mount"').resistance_ohm == MOUNT_OHM == 0.003
    assert wire('kind = "mount"\nohms = 0.1').resistance_ohm == 0.1


@pytest.mark.parametrize("kind", ["wire", "cable", "strap"])
def test_the_other_kinds_need_a_size_and_a_length(kind: str) -> None:
    assert wire(f'kind = "{kind}"\nmm2 = 16\nmetres = 0.3').kind == kind
    for body, what in (
        ("", "no size and no length"),
        ("mm2 = 1", "a size but no length"),
        ("awg = 16", "a size but no length"),
        ("metres = 1", "a length but no size"),
    ):
        problem = only_problem(BARE + f'kind = "{kind}"\n{body}')
        assert what in problem.what
        assert "ohms" in problem.mend
        assert (problem.where, problem.line) == ("wires.w", 8)


@pytest.mark.parametrize("size", ["0.2", "50", "0.5", "35.5"])
def test_sizes_that_are_in_the_tables(size: str) -> None:
    assert wire(f"mm2 = {size}\nmetres = 1").area_mm2 == float(size)


@pytest.mark.parametrize("gauge", [1, 24])
def test_gauges_that_are_in_the_tables(gauge: int) -> None:
    w = wire(f"awg = {gauge}\nmetres = 1")
    assert 0.2 <= (w.area_mm2 or 0) <= 50


def test_the_next_gauges_are_not() -> None:
    assert awg_area_mm2(0) > 50
    assert awg_area_mm2(25) < 0.2


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ("mm2 = 2.5", "mm2 = 0.19", "0.19, outside the tables"),
        ("mm2 = 2.5", "mm2 = 51", "51, outside the tables"),
        ("mm2 = 2.5", "mm2 = nan", "nan, outside the tables"),
        ("mm2 = 2.5", "mm2 = true", "true or false, not a number"),
        ("mm2 = 2.5", 'mm2 = "2.5"', "text, not a number"),
        ("mm2 = 2.5", "mm2 = [2.5]", "a list, not a number"),
        ("awg = 14", "awg = 0", "0, outside the tables"),
        ("awg = 14", "awg = 25", "25, outside the tables"),
        ("awg = 14", "awg = 14.5", "a number, not a whole number"),
        ("awg = 14", "awg = true", "true or false, not a whole number"),
        ("awg = 14", 'awg = "14"', "text, not a whole number"),
        ("awg = 14", "awg = 14 \nmm2 = 2", "both mm2 and awg"),
        ("metres = 0.4", "metres = 0", "not above zero"),
        ("metres = 0.4", "metres = -1", "not above zero"),
        ("metres = 0.4", "metres = inf", "not a finite number"),
        ("metres = 0.4", "metres = 4000", "outside"),
        ("ohms = 0.01", "ohms = 0", "not above zero"),
        ("ohms = 0.01", "ohms = false", "true or false, not a number"),
        ('"RDWH"', '"RDWX"', "no tracer colour"),
        ('"RDWH"', '"red/white"', "is not a colour"),
        ('"RDWH"', "3", "colour is a whole number, not text"),
        ('kind = "strap"', 'kind = "strop"', 'no kind of wire "strop"'),
        ('to = "horn.1"', 'to = "horn"', "not a terminal"),
        ('to = "horn.1"', 'to = "horn."', "not a terminal"),
        ('to = "horn.1"', 'to = ".1"', "not a terminal"),
        ('to = "horn.1"', 'to = "horn.1.2"', "not a terminal"),
        ('to = "horn.1"', 'to = ""', "not a terminal"),
        ('to = "horn.1"', "to = 3", "to is a whole number, not text"),
        ('to = "horn.1"', 'to = "horn. 1"', "cannot be a pin"),
        ('to = "horn.1"', 'to = "hörn.1"', "cannot be an id"),
        ('to = "horn.1"', 'to = "key-switch.15"', "from key-switch.15 to itself"),
        ("metres = 0.9", "meters = 0.9", 'a wire has no key "meters"'),
        ('id = "3"', "id = 3", "id is a whole number, not text"),
        ('id = "3"', 'id = "3 a"', "cannot be an id"),
        ('id = "3"', 'id = "1"', 'a second wire has the id "1"'),
        ('kind = "mount"', 'kind = "mount"\nmetres = 1', "a mount is metal on metal"),
    ],
)
def test_what_a_wire_refuses(old: str, new: str, what: str) -> None:
    problem = only_problem(swapped(old, new))
    assert what in problem.what
    assert problem.mend
    text = swapped(old, new)
    start = text[: GOOD.index(old)].count("\n") + 1
    assert problem.line in {start, start + 1}


def test_the_second_wire_of_an_id_names_the_line_of_the_first() -> None:
    problem = spoiled('id = "3"', 'id = "1"')
    first = GOOD[: GOOD.index("[[wires]]")].count("\n") + 1
    assert problem.mend.endswith(f"the first is at line {first}")


@pytest.mark.parametrize("key", ["id", "from", "to"])
def test_what_a_wire_must_have(key: str) -> None:
    text = BARE + "ohms = 1"
    lines = [line for line in text.split("\n") if not line.startswith(key)]
    problem = only_problem("\n".join(lines))
    assert problem.what == f"{key} is missing"
    assert problem.line == 8


def test_a_wire_with_a_bad_id_tells_what_else_is_wrong_with_it() -> None:
    text = BARE.replace('"w"', '"w w"').replace("j.2", "k.2") + "mm2 = 99\nmeter = 1"
    assert [p.where for p in problems_of(text)] == [
        "wires[1].id",
        "wires[1].to",
        "wires[1].mm2",
        "wires[1].meter",
    ]
