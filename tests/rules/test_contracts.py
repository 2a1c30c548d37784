"""The tools that hold the laws are not loosened quietly."""

import re
import tomllib
from typing import Any

import pytest

from tests.rules.source import CODE, ROOT


def settings_of_tools() -> dict[str, Any]:
    text = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    tools: dict[str, Any] = tomllib.loads(text)["tool"]
    return tools


def breaches(tools: dict[str, Any]) -> list[str]:
    return [
        *_import_breaches(tools["importlinter"]),
        *_typing_breaches(tools["mypy"]),
        *_test_breaches(tools["pytest"]["ini_options"]),
        *_lint_breaches(tools["ruff"]["lint"]),
    ]


def _import_breaches(linter: dict[str, Any]) -> list[str]:
    found = (
        [] if set(linter["root_packages"]) == set(CODE) else ["a package is left out"]
    )
    contracts = linter["contracts"]
    found += [
        f"contract {contract['name']!r} has exceptions"
        for contract in contracts
        if contract.get("ignore_imports")
    ]
    found += [
        f"contract {contract['name']!r} is not exhaustive"
        for contract in contracts
        if contract.get("containers") and not contract.get("exhaustive")
    ]
    if not any(contract.get("containers") == ["shop"] for contract in contracts):
        found.append("the layers of shop are not held")
    return found


def _typing_breaches(mypy: dict[str, Any]) -> list[str]:
    found = [] if mypy.get("strict") else ["mypy is not strict"]
    for override in mypy.get("overrides", []):
        modules = override["module"]
        names = [modules] if isinstance(modules, str) else modules
        found += [
            f"mypy is loosened for {name}"
            for name in names
            if name.split(".")[0] in {*CODE, "tests", "*"}
        ]
    return found


def _test_breaches(pytest_settings: dict[str, Any]) -> list[str]:
    warnings = pytest_settings["filterwarnings"]
    if warnings[0] != "error":
        return ["warnings are not errors"]
    narrow = re.compile(r"ignore:[^:]{12,}:[\w.]+")  # message and category are named
    return [
        f"warnings pass by the wide filter {rule!r}"
        for rule in warnings[1:]
        if not narrow.match(rule)
    ]


def _lint_breaches(lint: dict[str, Any]) -> list[str]:
    found = []
    if lint["mccabe"]["max-complexity"] > 8:
        found.append("complexity above 8")
    if lint["pylint"]["max-args"] > 7:
        found.append("more than 7 arguments")
    return found


def test_no_tool_is_loosened() -> None:
    assert breaches(settings_of_tools()) == []


LOOSER: list[tuple[str, list[str], Any]] = [
    (
        "contract",
        ["importlinter", "contracts"],
        [{"name": "x", "ignore_imports": ["a"]}],
    ),
    ("package", ["importlinter", "root_packages"], ["shop"]),
    ("strict", ["mypy", "strict"], False),
    ("override", ["mypy", "overrides"], [{"module": "shop.web", "strict": False}]),
    ("warnings", ["pytest", "ini_options", "filterwarnings"], ["default"]),
    ("filter", ["pytest", "ini_options", "filterwarnings"], ["error", "ignore"]),
    ("complexity", ["ruff", "lint", "mccabe", "max-complexity"], 20),
]


@pytest.mark.parametrize(
    ("path", "value"), [row[1:] for row in LOOSER], ids=[row[0] for row in LOOSER]
)
def test_the_rule_sees_a_loosened_tool(path: list[str], value: Any) -> None:
    tools = settings_of_tools()
    place = tools
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] = value
    assert breaches(tools)
