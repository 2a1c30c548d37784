"""An action names who acts and when, and takes nothing by position."""

import ast

from tests.rules.source import Source, code

# What actions are made of; nothing outside `actions/` may call these.
PLUMBING = {"history", "steps", "beliefs"}
CALLERS = ("web", "api", "tasks", "admin", "management")


def module_name(source: Source) -> str:
    return source.path.rsplit("/", 1)[-1].removesuffix(".py")


def is_actions_module(source: Source) -> bool:
    return source.layer == "actions" and not (
        module_name(source) in {"__init__", *PLUMBING}
        or module_name(source).startswith("_")
    )


def breaches(source: Source) -> list[str]:
    found = []
    for node in source.tree.body:
        if not isinstance(node, ast.FunctionDef) or node.name.startswith("_"):
            continue
        named = {argument.arg for argument in node.args.kwonlyargs}
        if node.args.args or node.args.posonlyargs or node.args.vararg:
            found.append(source.at(node, f"{node.name} takes arguments by position"))
        found.extend(
            source.at(node, f"{node.name} lacks {name}")
            for name in ("acting_user", "at")
            if name not in named
        )
    return found


def plumbing_breaches(source: Source) -> list[str]:
    return [
        source.at(node, f"reaches into {node.module}")
        for node in ast.walk(source.tree)
        if isinstance(node, ast.ImportFrom)
        and (node.module or "").split(".")[-1] in PLUMBING
        and ".actions." in (node.module or "")
    ]


def test_every_action_is_keyword_only_with_acting_user_and_at() -> None:
    found = [
        breach
        for source in code("actions")
        if is_actions_module(source)
        for breach in breaches(source)
    ]
    assert found == []


def test_nobody_outside_reaches_into_what_actions_are_made_of() -> None:
    found = [
        breach for source in code(*CALLERS) for breach in plumbing_breaches(source)
    ]
    assert found == []


def test_the_rule_sees_an_action_without_a_name_or_a_time() -> None:
    good = "def book_in(*, bike_id, acting_user, at): ..."
    assert not breaches(Source("shop/actions/x.py", good))
    for bad in (
        "def book_in(bike_id, *, acting_user, at): ...",
        "def book_in(*, bike_id, at): ...",
        "def book_in(*, bike_id, acting_user): ...",
    ):
        assert breaches(Source("shop/actions/x.py", bad)), bad
    assert not breaches(Source("shop/actions/x.py", "def _inner(row): ..."))
    assert plumbing_breaches(
        Source("shop/web/x.py", "from shop.actions.history import record")
    )
