"""What the documents tell a reader to type exists, and the settings are all told."""

import re

import pytest
from django.core.management import get_commands

from tests.rules.source import ROOT, Source, sources

DOCUMENTS = ("README.md", "DEVELOPERS.md")
SCRIPT = re.compile(r"bash (\.ci/\S+?)[`\s,;.)]")
MANAGE = re.compile(r"manage\.py (\w+)")
TOOL = re.compile(r"uv run ([\w-]+)")
LINK = re.compile(r"\]\((?!https?:|#|mailto:)([^)#]+)")
VARIABLE = re.compile(r"\bLOOM_[A-Z_]+\b")
# Read by scripts and tests, not by the service.
NOT_SETTINGS = ("LOOM_TEST_", "LOOM_PORT")


def document(name: str) -> Source:
    return Source(name, (ROOT / name).read_text(encoding="utf-8") + "\n")


def dead_commands(source: Source) -> list[str]:
    """Return the commands in the text that do not exist."""
    known = get_commands()
    tools = {path.name for path in (ROOT / ".venv" / "bin").glob("*")}
    return [
        *(f"bash {s}" for s in SCRIPT.findall(source.text) if not (ROOT / s).is_file()),
        *(f"manage.py {c}" for c in MANAGE.findall(source.text) if c not in known),
        *(f"uv run {t}" for t in TOOL.findall(source.text) if t not in tools),
    ]


def dead_links(source: Source) -> list[str]:
    """Return the relative links that lead nowhere."""
    return [
        target
        for target in LINK.findall(source.text)
        if not (ROOT / target.strip()).exists()
    ]


def settings_read() -> set[str]:
    """Return the variables that the settings and the code read."""
    return {
        name
        for source in sources("shop", "diagnostics")
        for name in VARIABLE.findall(source.text)
        if not name.endswith("_FILE") and not name.startswith(NOT_SETTINGS)
    }


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_command_and_link_exists(name: str) -> None:
    assert dead_commands(document(name)) == []
    assert dead_links(document(name)) == []


def test_the_readme_gives_the_two_commands() -> None:
    text = document("README.md").text
    assert "bash .ci/demo" in text
    assert "bash .ci/test" in text


def test_the_readme_names_every_setting_and_no_other() -> None:
    told = {
        name
        for name in VARIABLE.findall(document("README.md").text)
        if not name.startswith(NOT_SETTINGS) and not name.endswith("_FILE")
    }
    assert told == settings_read()


def test_docker_compose_sets_no_variable_that_nothing_reads() -> None:
    text = (ROOT / "docker-compose.yml").read_text(encoding="utf-8")
    told = {name.removesuffix("_FILE") for name in VARIABLE.findall(text)}
    extra = {
        name for name in told - settings_read() if not name.startswith("LOOM_PORT")
    }
    assert extra == set()


def test_the_rule_sees_a_dead_command_and_a_dead_link() -> None:
    text = "Run `bash .ci/fly`, `manage.py fly` or `uv run fly`; see [it](fly.md).\n"
    assert dead_commands(Source("X.md", text)) == [
        "bash .ci/fly",
        "manage.py fly",
        "uv run fly",
    ]
    assert dead_links(Source("X.md", text)) == ["fly.md"]
