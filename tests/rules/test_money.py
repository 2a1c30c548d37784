"""Money is rounded in one place, and is never a float."""

import ast

from tests.rules.source import Source, code

ONLY_HERE = "shop/domain/money.py"


def breaches(source: Source) -> list[str]:
    found = []
    for node in ast.walk(source.tree):
        if not isinstance(node, ast.Call):
            continue
        if isinstance(node.func, ast.Attribute) and node.func.attr == "quantize":
            found.append(source.at(node, "rounds by itself"))
        if isinstance(node.func, ast.Name) and node.func.id == "FloatField":
            found.append(source.at(node, "a column of floats"))
        if isinstance(node.func, ast.Attribute) and node.func.attr == "FloatField":
            found.append(source.at(node, "a column of floats"))
    return found


def float_breaches(source: Source) -> list[str]:
    return [
        source.at(node, "a float among money")
        for node in ast.walk(source.tree)
        if (isinstance(node, ast.Constant) and isinstance(node.value, float))
        or (isinstance(node, ast.Name) and node.id == "float")
    ]


def test_only_the_money_module_rounds() -> None:
    found = [
        breach
        for source in code()
        if source.path.startswith("shop/") and source.path != ONLY_HERE
        for breach in breaches(source)
    ]
    assert found == []


def test_the_shops_arithmetic_knows_no_float() -> None:
    found = [
        breach
        for source in code("domain")
        if source.path.startswith("shop/")
        for breach in float_breaches(source)
    ]
    assert found == []


def test_the_rule_sees_a_second_rounding_and_a_float() -> None:
    assert breaches(Source("shop/web/x.py", "total.quantize(Decimal('0.01'))"))
    assert breaches(Source("shop/models/x.py", "price = models.FloatField()"))
    assert float_breaches(Source("shop/domain/x.py", "tax = net * 0.2"))
    assert float_breaches(Source("shop/domain/x.py", "def f(net: float): ..."))
    assert not breaches(Source("shop/web/x.py", "round_money(total)"))
