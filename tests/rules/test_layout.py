"""The top level is fixed, and a noun has one name in every layer."""

import subprocess
from collections.abc import Iterable

from tests.rules.source import ROOT, code

TOP = {
    "README.md",
    "DEVELOPERS.md",
    "manage.py",
    "pyproject.toml",
    "uv.lock",
    "docker-compose.yml",
    "shop",
    "harness",
    "diagnostics",
    "templates",
    "tests",
}
VAGUE = {"utils", "helpers", "helper", "common", "misc", "tools_", "services", "base"}


def strangers(names: Iterable[str]) -> list[str]:
    """Return what does not belong at the top level."""
    return sorted(name for name in set(names) - TOP if not name.startswith("."))


def vague(paths: Iterable[str]) -> list[str]:
    """Return the modules whose name says nothing."""
    return [
        path for path in paths if path.rsplit("/", 1)[-1].removesuffix(".py") in VAGUE
    ]


def test_the_top_level_holds_what_it_should() -> None:
    tracked = subprocess.run(
        ["git", "ls-files"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    ).stdout.splitlines()
    names = {path.split("/")[0] for path in tracked}
    assert strangers(names) == []
    assert {name for name in TOP if "." in name} - names == set()


def test_a_module_is_named_after_what_it_is_about() -> None:
    assert vague(source.path for source in code()) == []


def test_the_rule_sees_a_stranger_and_a_vague_name() -> None:
    assert strangers(["shop", "notes.txt", ".gitignore"]) == ["notes.txt"]
    assert vague(["shop/utils.py", "shop/bikes.py"]) == ["shop/utils.py"]
