"""Bars are measured by `pytest -m benchmark_bar`, one at a time, on a quiet machine."""

from pathlib import Path

import pytest


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what stands in this folder."""
    here = Path(__file__).parent
    for item in items:
        if item.path.is_relative_to(here):
            item.add_marker(pytest.mark.benchmark_bar)
