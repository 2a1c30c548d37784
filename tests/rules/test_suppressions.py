"""Whoever silences a tool says which rule, and why."""

import re

from tests.rules.source import Source, sources

SILENCED = re.compile(r"#\s*(noqa|type:\s*ignore|pragma:|ruff:|mypy:)(.*)$")
WITH_REASON = re.compile(
    r"^(?::\s*[A-Z]+[0-9]+(?:,\s*[A-Z]+[0-9]+)*|\[[a-z-]+(?:,\s*[a-z-]+)*\])"
    r"\s*[#:-]?\s*\w{3,}"
)


def breaches(source: Source) -> list[str]:
    return [
        f"{source.path}:{number}: {line.strip()}"
        for number, line in enumerate(source.text.splitlines(), start=1)
        if (match := SILENCED.search(line)) and not WITH_REASON.match(match.group(2))
    ]


def test_every_silenced_rule_has_a_code_and_a_reason() -> None:
    found = [
        breach
        for source in sources("harness", "shop", "diagnostics", "tests", ".ci")
        if source.path != "tests/rules/test_suppressions.py"
        and "/migrations/0" not in source.path
        for breach in breaches(source)
    ]
    assert found == []


def test_the_rule_sees_a_bare_suppression() -> None:
    for text in (
        "x = 1  # noqa",
        "x = 1  # noqa: S603",
        "x = f()  # type: ignore",
        "x = f()  # type: ignore[arg-type]",
    ):
        assert breaches(Source("shop/x.py", text)), text
    for text in (
        "x = 1  # noqa: S603 - the arguments are fixed",
        "x = f()  # type: ignore[arg-type]  # the stubs lack this overload",
    ):
        assert not breaches(Source("shop/x.py", text)), text
