"""A migration stands alone: what it needs is written out in it."""

import ast

from tests.rules.source import CODE, Source, code

# Columns and managers that Django itself writes into a migration, and the one
# module that writes the triggers of append-only tables.
ALLOWED = {"shop.models.people", "shop.models.append_only"}


def breaches(source: Source) -> list[str]:
    found: list[str] = []
    for node in ast.walk(source.tree):
        names = []
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            names = [node.module or ""]
        found.extend(
            source.at(node, f"imports {name}")
            for name in names
            if name.split(".")[0] in CODE and name not in ALLOWED
        )
    return found


def test_migrations_import_no_app_code() -> None:
    found = [breach for source in code("migrations") for breach in breaches(source)]
    assert found == []


def test_the_rule_sees_a_migration_that_leans_on_the_app() -> None:
    for text in (
        "from shop.models.bikes import Bike",
        "import harness",
        "from diagnostics.convert import entry_of",
    ):
        assert breaches(Source("shop/migrations/0002_x.py", text)), text
    assert not breaches(Source("shop/migrations/0002_x.py", "from django.db import x"))
