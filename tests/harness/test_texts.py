"""From bytes to tables: size, encoding, TOML."""

import time
from pathlib import Path

import pytest

from harness.errors import HarnessError, Problem
from harness.texts import LARGEST_BYTES, read_source, source_of


def problem_of(content: bytes | str) -> Problem:
    with pytest.raises(HarnessError) as caught:
        source_of(content, file="x.toml")
    (problem,) = caught.value.problems
    assert problem.file == "x.toml"
    return problem


@pytest.mark.parametrize(
    ("text", "line", "what"),
    [
        ("a = 1\nb = \n", 2, "invalid value"),
        ("a = 1\na = 2\n", 2, "overwrite"),
        ("[a]\nx = 1\n[b]\n[a]\n", 4, "twice"),
        ("a = 1\nb", 2, "expected '='"),
        ("a = 1\n[[b]\n", 2, "expected"),
        ('a = "x\n', 1, "not TOML"),
        ("a = [1,\n2,\n", 3, "not TOML"),
        ("a = 08\n", 1, "not TOML"),
        ("a = 2001-99-99\n", 1, "not TOML"),
        ("\x00", 1, "not TOML"),
    ],
)
def test_what_is_not_toml_is_told_with_its_line(
    text: str, line: int, what: str
) -> None:
    problem = problem_of(text)
    assert problem.line == line
    assert what.lower() in problem.what.lower()


def test_a_key_given_twice_is_mended_by_dropping_one() -> None:
    assert "only once" in problem_of("a = 1\na = 2").mend
    assert "only once" in problem_of("[a.b]\n[a.b]").mend
    assert "quotes" in problem_of("a = b").mend


def test_bytes_that_are_not_utf_8() -> None:
    problem = problem_of(b"a = 1\nb = '\xff'\n")
    assert (problem.line, problem.mend) == (2, "save it as UTF-8")
    assert problem_of("a = '\ud800'").what == "it is not UTF-8 text"


def test_a_byte_order_mark_is_passed_over() -> None:
    assert source_of("\ufeffa = 1").data == {"a": 1}
    assert source_of(b"\xef\xbb\xbfa = 1").data == {"a": 1}


def test_two_mebibytes_is_the_most(tmp_path: Path) -> None:
    line = b"#" + b"x" * 1022 + b"\n"
    content = line * (LARGEST_BYTES // 1024)
    assert source_of(content).data == {}
    assert problem_of(content + b"#").what == "it is larger than 2 MiB"
    path = tmp_path / "big.toml"
    path.write_bytes(content + b"#")
    with pytest.raises(HarnessError, match="2 MiB"):
        read_source(path)


@pytest.mark.parametrize(
    "text",
    ["a = " + "[" * 5000, "a = " + "[" * 5000 + "]" * 5000, "a = " + "{a=" * 3000],
)
def test_deep_nesting_is_refused(text: str) -> None:
    assert "nested too deep" in problem_of(text).what


def test_numbers_too_long_to_be_read_are_not_toml() -> None:
    assert "not TOML" in problem_of("a = " + "9" * 5000).what


@pytest.mark.parametrize("part", ["a", "'b c'", "''", r'"\"."', " a "])
def test_long_dotted_keys_are_refused_at_once(part: str) -> None:
    # the reader would take hours over one key of a million parts
    started = time.perf_counter()
    problem = problem_of("x = 1\n" + ".".join([part] * 200_000) + " = 1")
    assert time.perf_counter() - started < 5
    assert problem.line == 2


@pytest.mark.parametrize(
    "line",
    [
        "# " + "." * 500,
        'note = "' + "." * 500 + '"',
        "# " + "a. b. " * 90,
        'note = "' + "So it is. " * 90 + '"',
    ],
)
def test_rows_of_dots_are_no_keys(line: str) -> None:
    source_of(line)


def test_half_a_mebibyte_of_the_worst_keys_is_read_in_bearable_time() -> None:
    key = ".".join(["a"] * 7)
    lines = [f"b{n}.{key} = 1" for n in range(LARGEST_BYTES // 104)]
    started = time.perf_counter()
    source_of("\n".join(lines))
    assert time.perf_counter() - started < 10


def test_a_file_that_cannot_be_read(tmp_path: Path) -> None:
    for path in (tmp_path, tmp_path / "none.toml", Path("a\0b.toml")):
        with pytest.raises(HarnessError, match="cannot be read"):
            read_source(path)


def test_every_path_has_some_line() -> None:
    source = source_of("\n\na = 1\n")
    assert source.line_of(("a",)) == 3
    assert source.line_of(("nowhere",)) == 1
