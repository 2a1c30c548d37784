"""What a source may be called: published only where it was read."""

import pytest

from harness.measurements import KINDS, Limit, Source, Standing
from harness.measurements.sources import Confidence, practice
from tests.harness.measurements.bikes import SYSTEMS


def every_limit() -> list[Limit]:
    return [
        limit
        for kind in KINDS
        for system in SYSTEMS
        if system.volts in kind.systems
        for limit in (*kind.limits(system), *kind.references(system))
    ]


@pytest.mark.parametrize("standing", Standing)
def test_only_what_was_read_in_the_source_is_called_published(
    standing: Standing,
) -> None:
    source = Source("A table", standing, Confidence.HIGH)
    assert source.is_published == (standing is Standing.PUBLISHED)
    assert ("published" in source.sentence) == source.is_published


def test_a_habit_of_the_trade_says_that_nobody_stands_behind_it() -> None:
    assert practice("Half a volt").sentence == (
        "Half a volt (common practice in the trade, no authority found; "
        "confidence medium)"
    )


def test_only_the_two_battery_tables_are_published() -> None:
    # B1, B2 (pub M); all other limits are prac, mem, calc or pub~.
    published = {limit.quantity for limit in every_limit() if limit.source.is_published}
    assert published == {"Battery voltage at rest", "Gravity of the weakest cell"}


def test_every_limit_names_its_source_and_its_unit() -> None:
    for limit in every_limit():
        assert len(limit.source.words) > 10
        assert limit.quantity in limit.sentence
        assert limit.unit in limit.sentence
