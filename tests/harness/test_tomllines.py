"""Every table and key of a TOML text has the line that it stands on."""

import tomllib
from collections.abc import Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harness.tomllines import LineIndex, Path

TEXT = '''\
# a comment with [brackets] and "quotes"
schema = 1
"quoted key" = 'a # not a comment'
dotted . "inner.key" = 2   # comment

[a.b]      # a table
c = [ 1, 2,   # comment ]
  { x = "}", "y z" = [ 3,
    4 ] },
]
long = """
first
"quoted" \\""" not the end
last"""  # comment
after = \'\'\'
['not a table']
\'\'\'
when = 1979-05-27 07:32:00Z
end = true

[[wires]]
id = "1"
[wires.sub]
k = 1
[[wires]]
id = "2"
[[wires.ends]]
pin = 1
[[wires.ends]]
pin = 2

[a]
z = 1e5
'''

LINES: list[tuple[Path, int]] = [
    (("schema",), 2),
    (("quoted key",), 3),
    (("dotted",), 4),
    (("dotted", "inner.key"), 4),
    (("a", "b"), 6),
    (("a", "b", "c"), 7),
    (("a", "b", "c", 1), 7),
    (("a", "b", "c", 2), 8),
    (("a", "b", "c", 2, "x"), 8),
    (("a", "b", "c", 2, "y z"), 8),
    (("a", "b", "c", 2, "y z", 1), 9),
    (("a", "b", "long"), 11),
    (("a", "b", "after"), 15),
    (("a", "b", "when"), 18),
    (("a", "b", "end"), 19),
    (("wires",), 21),
    (("wires", 0), 21),
    (("wires", 0, "id"), 22),
    (("wires", 0, "sub", "k"), 24),
    (("wires", 1), 25),
    (("wires", 1, "id"), 26),
    (("wires", 1, "ends", 0, "pin"), 28),
    (("wires", 1, "ends", 1, "pin"), 30),
    (("a", "z"), 33),
]


@pytest.mark.parametrize(("path", "line"), LINES)
def test_each_thing_has_its_line(path: Path, line: int) -> None:
    tomllib.loads(TEXT)
    index = LineIndex(TEXT)
    assert path in index
    assert index.line_of(path) == line


def test_windows_line_ends_count_once() -> None:
    index = LineIndex(TEXT.replace("\n", "\r\n"))
    assert index.line_of(("wires", 1, "id")) == 26


def test_what_is_missing_has_the_line_of_what_is_around_it() -> None:
    index = LineIndex(TEXT)
    assert index.line_of(("wires", 1, "colour", 3)) == 25
    assert index.line_of(("nowhere",)) is None


def paths(value: object, path: Path = ()) -> Iterator[Path]:
    if path:
        yield path
    if isinstance(value, dict):
        for key, item in value.items():
            yield from paths(item, (*path, key))
    elif isinstance(value, list):
        for index, item in enumerate(value):
            yield from paths(item, (*path, index))


def basic(text: str) -> str:
    """Return a text as a basic TOML string."""
    special = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t"}
    return '"' + "".join(special.get(c, c) for c in text) + '"'


LETTERS = st.text("ab \"'\\#.[]{},=\n\té", max_size=6)
KEYS = st.one_of(st.from_regex(r"[a-z]{1,2}", fullmatch=True), LETTERS.map(basic))
MULTI = st.text("a'#[]{}=,\n", max_size=8).map(
    lambda t: '"""' + t.replace('"', "") + 'x"""'
)
LITERAL = st.text('ab"#[]{},=\\ ', max_size=6).map(lambda t: f"'{t}'")
SCALARS = st.one_of(
    st.integers(-99, 99).map(str),
    st.sampled_from(["true", "1.5e3", "inf", "1979-05-27", "07:32:00"]),
    st.sampled_from(["1979-05-27 07:32:00", "1979-05-27T07:32:00.5+01:00", "0xff"]),
    LETTERS.map(basic),
    MULTI,
    LITERAL,
)
GAPS = st.sampled_from(["", " ", "\n", " # ], }\n", "\n\n  "])


def lists(values: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    items = st.lists(st.tuples(GAPS, values, GAPS), max_size=3)
    return items.map(lambda found: "[" + ",".join("".join(i) for i in found) + "]")


def inline(values: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    pairs = st.dictionaries(KEYS, values, max_size=3)
    return pairs.map(
        lambda found: "{ " + ", ".join(f"{k} = {v}" for k, v in found.items()) + " }"
    )


VALUES = st.recursive(SCALARS, lambda inner: lists(inner) | inline(inner), max_leaves=6)
HEADERS = st.tuples(st.lists(KEYS, min_size=1, max_size=3), st.booleans()).map(
    lambda h: ("[[{}]]" if h[1] else "[{}]").format(" . ".join(h[0]))
)
STATEMENTS = st.one_of(
    HEADERS,
    st.sampled_from(["", "# [x] = '"]),
    st.tuples(st.lists(KEYS, min_size=1, max_size=2), VALUES).map(
        lambda pair: ".".join(pair[0]) + " = " + pair[1]
    ),
)


@settings(max_examples=400, deadline=None)
@given(st.lists(STATEMENTS, max_size=8))
def test_the_scanner_follows_whatever_the_reader_accepts(found: list[str]) -> None:
    text = ""
    for statement in found:  # keep what stays good TOML
        try:
            tomllib.loads(text + statement + "\n")
        except ValueError:
            continue
        text += statement + "\n"
    index = LineIndex(text)
    last = text.count("\n")
    for path in paths(tomllib.loads(text)):
        assert path in index
        assert 1 <= (index.line_of(path) or 0) <= last


@settings(max_examples=200, deadline=None)
@given(
    st.lists(st.tuples(GAPS.filter(lambda g: g.strip(" ") == "" or "#" in g), VALUES))
)
def test_keys_written_in_order_stand_on_the_lines_where_they_were_put(
    found: list[tuple[str, str]],
) -> None:
    text, expected = "", {}
    for number, (gap, value) in enumerate(found):
        text += gap if gap.endswith("\n") else ""
        expected[f"key{number}"] = text.count("\n") + 1
        text += f"key{number} = {value}\n"
    try:
        tomllib.loads(text)
    except ValueError:
        return  # a gap inside an inline table
    index = LineIndex(text)
    assert {key: index.line_of((key,)) for key in expected} == expected
