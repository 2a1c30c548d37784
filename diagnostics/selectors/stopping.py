"""Whether to stop testing and change the part now."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

import harness
from diagnostics.labour_cost import LabourCost
from diagnostics.selectors.segments import percent_words
from diagnostics.words import segment_words


@dataclass(frozen=True, kw_only=True)
class StopView:
    """What changing the likeliest part now would cost, against testing on.

    `wasted` is what a wrong guess costs on the average, `testing` what the rest of the
    hunt would: money at the shop's rate of that day, or minutes where it had none.
    """

    segment: str
    label: str
    percent: str
    stop: bool
    wasted: str
    testing: str


def stop_view(h: harness.Harness, said: Mapping[str, Any] | None) -> StopView | None:
    """Return stored stop advice in words.

    A fuse is never to be changed unseen, nor before it is known why it blew.
    """
    if said is None:
        return None
    cost = LabourCost(
        hourly_rate=Decimal(said["hourly_rate"]), currency=said["currency"]
    )
    return StopView(
        segment=said["segment"],
        label=segment_words(h, said["segment"]),
        percent=percent_words(said["probability"]),
        stop=said["stop"] and not said["segment"].startswith("fuse:"),
        wasted=cost.of(said["waste"]),
        testing=cost.of(said["hunt_cost"]),
    )
