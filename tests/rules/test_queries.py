"""Queries are named on the QuerySet and asked by selectors and actions."""

import ast

from tests.rules.source import Source, code, dotted

# They parse, call one action or selector, and answer.
THIN = ("web", "api", "tasks")


def thin_breaches(source: Source) -> list[str]:
    return [
        source.at(node, f"asks the database itself: {dotted(node)}")
        for node in ast.walk(source.tree)
        if isinstance(node, ast.Attribute)
        and (node.attr in {"objects", "_default_manager"} or node.attr == "raw")
    ]


def bare_breaches(source: Source) -> list[str]:
    return [
        source.at(node, "select_related() without naming what")
        for node in ast.walk(source.tree)
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr == "select_related"
        and not node.args
    ]


def property_breaches(source: Source) -> list[str]:
    return [
        source.at(inner, f"a query in the property {node.name}")
        for node in ast.walk(source.tree)
        if isinstance(node, ast.FunctionDef)
        and any(dotted(d).endswith("property") for d in node.decorator_list)
        for inner in ast.walk(node)
        if isinstance(inner, ast.Attribute)
        and inner.attr in {"objects", "filter", "exclude", "all", "exists", "count"}
    ]


def ordering_breaches(source: Source) -> list[str]:
    return [
        source.at(inner, "an order hidden in Meta")
        for node in ast.walk(source.tree)
        if isinstance(node, ast.ClassDef) and node.name == "Meta"
        for inner in node.body
        if isinstance(inner, ast.Assign)
        and any(dotted(target) == "ordering" for target in inner.targets)
    ]


def test_views_and_tasks_ask_selectors() -> None:
    found = [breach for source in code(*THIN) for breach in thin_breaches(source)]
    assert found == []


def test_select_related_names_what_it_fetches() -> None:
    found = [breach for source in code() for breach in bare_breaches(source)]
    assert found == []


def test_a_property_runs_no_query_and_no_model_hides_an_order() -> None:
    found = [
        breach
        for source in code("models")
        for breach in (*property_breaches(source), *ordering_breaches(source))
    ]
    assert found == []


def test_the_rule_sees_each_kind_of_hidden_query() -> None:
    web = "shop/web/bikes.py"
    model = "shop/models/bikes.py"
    assert thin_breaches(Source(web, "Bike.objects.filter(pk=1)"))
    assert bare_breaches(Source(web, "rows.select_related()"))
    assert not bare_breaches(Source(web, "rows.select_related('bike')"))
    hidden = "@property\ndef open(self):\n    return self.orders.filter(x=1)"
    assert property_breaches(Source(model, hidden))
    assert ordering_breaches(Source(model, "class Meta:\n    ordering = ['pk']"))
