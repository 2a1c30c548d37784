"""A state is written by an action, and by nothing else."""

import ast

from tests.rules.source import Source, code

WRITERS = {"update", "create", "bulk_create", "get_or_create", "update_or_create"}


def breaches(source: Source) -> list[str]:
    return [
        breach for node in ast.walk(source.tree) for breach in _at_node(source, node)
    ]


def _at_node(source: Source, node: ast.AST) -> list[str]:
    if isinstance(node, ast.Assign | ast.AugAssign):
        targets = node.targets if isinstance(node, ast.Assign) else [node.target]
        return [
            source.at(node, "assigns a state")
            for target in targets
            if isinstance(target, ast.Attribute) and target.attr == "state"
        ]
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
        if node.func.attr in WRITERS and any(k.arg == "state" for k in node.keywords):
            return [source.at(node, f".{node.func.attr}(state=...)")]
        if node.func.attr == "bulk_update" and "state" in ast.dump(node):
            return [source.at(node, ".bulk_update(... state ...)")]
    return []


def test_states_are_written_under_actions_alone() -> None:
    found = [
        breach
        for source in code()
        if source.layer != "actions" and not source.path.startswith("harness/")
        for breach in breaches(source)
    ]
    assert found == []


def test_the_rule_sees_a_state_written_elsewhere() -> None:
    for text in (
        "work_order.state = 'closed'",
        "WorkOrder.objects.filter(pk=1).update(state='closed')",
        "WorkOrder.objects.create(state='closed')",
        "WorkOrder.objects.bulk_update(rows, ['state'])",
    ):
        assert breaches(Source("shop/web/work_orders.py", text)), text
    assert not breaches(Source("shop/web/x.py", "rows.filter(state='closed')"))
    assert not breaches(Source("shop/web/x.py", "if row.state == 'closed': pass"))
