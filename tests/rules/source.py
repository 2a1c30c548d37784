"""What the rules read: the project's own files, as text and as syntax trees."""

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
CODE = ("harness", "shop", "diagnostics")
_VENDORED = ("/static/", "/__pycache__/")


@dataclass(frozen=True)
class Source:
    """One file: its path from the project's root, and its text."""

    path: str
    text: str

    @cached_property
    def tree(self) -> ast.Module:
        """Return the syntax tree."""
        return ast.parse(self.text)

    @property
    def layer(self) -> str:
        """Return the folder below the package: `actions` for shop/actions/bikes.py."""
        parts = self.path.split("/")
        return parts[1].removesuffix(".py") if len(parts) > 1 else ""

    def at(self, node: ast.AST, what: str) -> str:
        """Return a breach with its place."""
        return f"{self.path}:{getattr(node, 'lineno', 0)}: {what}"


def sources(*folders: str, suffix: str = ".py") -> Iterator[Source]:
    """Yield the files below the folders, sorted, less what is not ours."""
    for folder in folders:
        for path in sorted((ROOT / folder).rglob(f"*{suffix}")):
            name = path.relative_to(ROOT).as_posix()
            if not any(part in f"/{name}" for part in _VENDORED):
                yield Source(name, path.read_text(encoding="utf-8"))


def code(*layers: str) -> Iterator[Source]:
    """Yield the modules of the code, of these layers only where some are named."""
    for source in sources(*CODE):
        if not layers or source.layer in layers:
            yield source


def dotted(node: ast.AST) -> str:
    """Return `a.b.c` for a chain of names, and an empty text for anything else."""
    if isinstance(node, ast.Name):
        return node.id
    if isinstance(node, ast.Attribute):
        before = dotted(node.value)
        return f"{before}.{node.attr}" if before else node.attr
    return ""
