"""A file is about one thing, and short enough to read in one go."""

from tests.rules.source import CODE, Source, sources

LINES_AT_MOST = 400
FOLDERS = (*CODE, "tests", "templates", ".ci")


def breaches(source: Source) -> list[str]:
    lines = source.text.count("\n")
    return [f"{source.path}: {lines} lines"] if lines > LINES_AT_MOST else []


def test_no_file_is_longer_than_four_hundred_lines() -> None:
    found = [
        breach
        for suffix in (".py", ".html", ".css", ".js", ".sh")
        for source in sources(*FOLDERS, suffix=suffix)
        for breach in breaches(source)
    ]
    assert found == []


def test_the_rule_sees_a_long_file() -> None:
    assert breaches(Source("shop/web/bikes.py", "x = 1\n" * 401))
    assert not breaches(Source("shop/web/bikes.py", "x = 1\n" * 400))
