"""Advice for names that are not known."""

from harness.suggestions import did_you_mean, listed, named_type, quoted


def test_a_near_name_is_suggested_whatever_its_case() -> None:
    known = ["Main-Fuse", "horn", "frame"]
    assert did_you_mean("main-fuze", known, kind="x") == 'did you mean "Main-Fuse"?'
    assert did_you_mean("HORN", known, kind="x") == 'did you mean "horn"?'


def test_where_nothing_is_near_the_names_are_listed() -> None:
    assert did_you_mean("zz", ["b", "a"], kind="pins") == "the pins are a, b"
    many = [f"device-{n:02}" for n in range(30)]
    told = did_you_mean("zz", many, kind="devices")
    assert told.endswith("device-11 and 18 more")


def test_values_are_quoted_on_one_short_line() -> None:
    assert quoted("a\nb\x00") == '"a?b?"'
    assert len(quoted("x" * 1000)) < 80
    assert quoted(True) == "true"
    assert quoted(1.5) == "1.5"
    assert quoted(10**400) == "a huge number"
    assert quoted(["a"]) == "a list"


def test_names_that_are_offered_are_clean_too() -> None:
    assert did_you_mean("ab", ["a\nb"], kind="pins") == 'did you mean "a?b"?'
    assert listed(["a\x00", "y" * 99]) == "a?, " + "y" * 64 + "..."


def test_types_have_names_for_people() -> None:
    assert named_type(1.0) == "a number"
    assert named_type(None) == "nothing"
    assert named_type(object()) == "a date or time"
    assert listed([]) == ""
