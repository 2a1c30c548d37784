"""Stop advice in words."""

from typing import Any

import harness
from diagnostics.selectors.stopping import stop_view
from tests.diagnostics.builders import BENCH_TOML

H = harness.loads(BENCH_TOML, name="bench example")


def said(**changes: Any) -> dict[str, Any]:
    return {
        "stop": True,
        "segment": "device:horn",
        "probability": 0.72,
        "waste": 4.0,
        "hunt_cost": 21.0,
        "hourly_rate": "60.00",
        "currency": "EUR",
        **changes,
    }


def test_both_ways_are_told_with_their_price() -> None:
    view = stop_view(H, said())
    assert view is not None
    assert (view.stop, view.label, view.percent) == (True, "Horn", "72 %")
    assert (view.wasted, view.testing) == ("EUR 4", "EUR 21")


def test_a_fuse_is_never_changed_unseen() -> None:
    view = stop_view(H, said(segment="fuse:main-fuse"))
    assert view is not None
    assert view.stop is False


def test_without_advice_there_is_none() -> None:
    assert stop_view(H, None) is None
