"""Typed readers: each wrong value is one problem at its line."""

import math
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness.errors import Problem
from harness.reading import QUANTITIES, Source, Spot, Table
from harness.tomllines import LineIndex


def table(text: str, where: str = "devices.horn") -> Table:
    source = Source(tomllib.loads(text), LineIndex(text).line_of)
    return Table(source.data, Spot(source), where, [])


def only(t: Table) -> Problem:
    assert len(t.problems) == 1, t.problems
    return t.problems[0]


def test_a_good_table_reads_without_a_word() -> None:
    t = table('a = "x"\nohms = 3\nm = true\nlist = ["p"]\nrows = [{ a = "1" }]')
    assert t.text("a") == "x"
    assert t.number("ohms") == 3.0
    assert t.flag("m") is True
    assert t.texts("list") == ["p"]
    rows = t.tables("rows") or []
    assert [(row.where, row.text("a")) for row in rows] == [
        ("devices.horn.rows[1]", "1")
    ]
    assert t.problems == []


def test_what_is_missing_is_none_or_the_default() -> None:
    t = table("")
    assert [t.text("a"), t.texts("a"), t.tables("a")] == [None, None, None]
    assert t.number("ohms", 0.5) == 0.5
    assert t.flag("m") is False
    assert t.subtables("places") == {}
    assert t.problems == []


@pytest.mark.parametrize(
    ("value", "what", "mend"),
    [
        ("nan", "not a finite number", "ohms"),
        ("inf", "not a finite number", "ohms"),
        ("-inf", "not a finite number", "ohms"),
        ("0", "not above zero", "above zero"),
        ("-3.5", "-3.5, which is not above zero", "above zero"),
        ("true", "true or false, not a number", "bare number"),
        ('"12"', "text, not a number", "bare number"),
        ("[1]", "a list, not a number", "bare number"),
        ("1979-05-27", "a date or time, not a number", "bare number"),
        ("1e300", "outside 1e-09 to 1e+12", "decimal point"),
        ("1" + "0" * 400, "a huge number ohms, outside", "decimal point"),
    ],
)
def test_numbers_are_finite_positive_and_numbers(
    value: str, what: str, mend: str
) -> None:
    t = table(f"a = 1\nohms = {value}")
    assert t.number("ohms") is None
    problem = only(t)
    assert what in problem.what
    assert mend in problem.mend
    assert (problem.where, problem.line) == ("devices.horn.ohms", 2)


@given(st.sampled_from(sorted(QUANTITIES)), st.floats() | st.integers() | st.booleans())
def test_a_number_that_is_read_is_in_its_bounds(key: str, value: float) -> None:
    source = Source({key: value}, lambda _path: 1)
    t = Table(source.data, Spot(source), "x", [])
    read = t.number(key)
    _, low, high = QUANTITIES[key]
    assert (read is None) == bool(t.problems)
    if read is not None:
        assert math.isfinite(read)
        assert low <= read <= high


def test_a_number_that_must_be_there() -> None:
    t = table("a = 1")
    assert t.required("amps") is None
    assert only(t).what == "amps is missing"
    assert t.required("amps") is None


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("a = 3", "a is a whole number, not text"),
        ('a = "x\\u0000"', "control characters"),
        ('a = "x\\r\\ny"', "control characters"),
        ('a = "' + "x" * 2001 + '"', "2001 characters long"),
    ],
)
def test_texts_are_plain_and_short(text: str, what: str) -> None:
    t = table(text)
    t.text("a")
    assert what in only(t).what


def test_names_in_any_script_are_good() -> None:
    t = table('a = "Zündschloß\u00a0(Kabel)\\nstraw—配線"')
    t.text("a")
    assert t.problems == []


@pytest.mark.parametrize("bad", ["", "a b", "a.b", "a:b", "ä", "x" * 65, "a/b", "a=b"])
def test_an_id_is_letters_digits_dashes_and_underlines(bad: str) -> None:
    t = table(f'id = "{bad}"')
    assert t.identifier("id") is None
    assert "letters, digits, - and _" in only(t).mend


@pytest.mark.parametrize("good", ["1", "main-fuse", "Horn_2", "-", "x" * 64])
def test_ids_that_are_good(good: str) -> None:
    t = table(f'id = "{good}"')
    assert t.identifier("id") == good


def test_pins_may_carry_the_signs_that_makers_stamp() -> None:
    # check value T3: B+, B-, D+, D- are terminals of DIN 72552
    t = table("")
    assert all(t.check_pin(pin) for pin in ("B+", "B-", "D+", "D-", "15/54"[:2]))
    assert not t.check_pin("15/54")
    assert "cannot be a pin" in only(t).what


def test_unknown_keys_are_refused_with_the_nearest() -> None:
    t = table("ohm = 3\nzz = 1\nohms = 2")
    t.only(("ohms", "watts"), of="a load")
    assert [(p.line, p.mend) for p in t.problems] == [
        (1, 'did you mean "ohms"?'),
        (2, "the keys of a load are ohms, watts"),
    ]


@pytest.mark.parametrize(
    ("text", "line", "what"),
    [
        ('list = "x"', 1, "text where a list of texts"),
        ('list = ["x",\n 3]', 2, "a whole number in a list of texts"),
        ('list = ["x",\n ["y"]]', 2, "a list in a list of texts"),
    ],
)
def test_lists_hold_texts_alone(text: str, line: int, what: str) -> None:
    t = table(text)
    assert t.texts("list") is None
    assert (only(t).line, what in only(t).what) == (line, True)


def test_lists_of_tables_hold_tables_alone() -> None:
    t = table("rows = [{ a = 1 },\n 3]")
    assert len(t.tables("rows") or ()) == 1
    assert (only(t).line, only(t).what) == (2, "a whole number in a list of tables")
    t = table("rows = { a = 1 }")
    assert t.tables("rows") is None
    assert only(t).what == "rows is a table, not a list of tables"


def test_tables_of_tables_by_id() -> None:
    t = table('[places]\nbad = 3\n"a b" = {}\ngood = {}', where="")
    assert sorted(t.subtables("places")) == ["a b", "good"]
    assert [(p.line, p.where) for p in t.problems] == [
        (2, "places.bad"),
        (3, 'places."a b"'),
    ]
    t = table("places = [1]", where="")
    assert t.subtables("places") == {}
    assert only(t).what == "places is a list, not a table"


def test_a_flag_is_true_or_false() -> None:
    t = table('m = "yes"')
    assert t.flag("m") is False
    assert only(t).what == "m is text, not true or false"


def test_values_of_a_list_are_different() -> None:
    t = table('list = ["a",\n"b",\n"a"]')
    assert not t.all_different(t.texts("list") or [], "list", of="cavity")
    assert (only(t).line, only(t).what) == (3, 'there is a second cavity called "a"')


def test_after_many_problems_suggestions_are_plain() -> None:
    t = table("")
    assert t.did_you_mean("hron", ["horn"], kind="devices") == 'did you mean "horn"?'
    for _ in range(201):
        t.refuse("x", "y")
    assert t.did_you_mean("hron", ["horn"], kind="devices") == "name one of the devices"
