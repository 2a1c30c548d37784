"""The table of rates: every kind and mode has one, and every rate its reason."""

from collections.abc import Mapping
from typing import get_args

import pytest

from harness.model import Harness
from harness.priors.rates import KINDS, RATES, ROW_OF, TABLE, Cause
from harness.priors.segment_kinds import kind_of_segment
from harness.segments import MODES, Mode, segments_of
from tests.harness.library import LOOMS, loom
from tests.harness.priors.looms import every_kind
from tests.harness.small_looms import relay_and_charger

Table = Mapping[str, Mapping[Mode, float]]


def lacking(h: Harness, table: Table) -> set[tuple[str, Mode]]:
    """Return the kinds and modes of a loom that a table has no rate for."""
    wanted = {
        (kind_of_segment(h, s), mode)
        for s in segments_of(h).values()
        for mode in s.modes
    }
    return {way for way in wanted if way[1] not in table.get(way[0], {})}


def test_every_way_to_be_bad_of_every_kind_has_a_rate() -> None:
    assert lacking(every_kind(), RATES) == set()
    assert lacking(relay_and_charger(), RATES) == set()


@pytest.mark.parametrize("file", LOOMS)
def test_every_way_to_be_bad_of_the_demo_looms_has_a_rate(file: str) -> None:
    assert lacking(loom(file), RATES) == set()


def test_a_rate_that_is_taken_out_is_missed() -> None:
    for kind, mode in ROW_OF:
        without = {
            k: {m: r for m, r in modes.items() if (k, m) != (kind, mode)}
            for k, modes in RATES.items()
        }
        assert lacking(every_kind(), without) == {(kind, mode)}


def test_every_mode_the_engine_knows_has_a_row() -> None:
    assert {row.mode for row in TABLE} == set(MODES)


def test_no_kind_and_mode_has_two_rows() -> None:
    assert len(ROW_OF) == len(TABLE) == sum(len(modes) for modes in RATES.values())
    assert tuple(RATES) == KINDS


def test_every_row_says_why_in_one_sentence_of_its_own() -> None:
    reasons = [row.reason for row in TABLE]
    assert len(set(reasons)) == len(reasons)
    for reason in reasons:
        assert reason[0].isupper()
        assert reason.endswith(".")
        assert len(reason.split()) >= 4
    assert {row.cause for row in TABLE} == set(get_args(Cause))
    assert min(row.rate for row in TABLE) > 0


def test_bulbs_fail_most_and_joints_inside_the_loom_least() -> None:
    # Our own judgement of decades-old looms (common practice, no source).
    assert RATES["lamp"]["dead"] == max(row.rate for row in TABLE)
    assert RATES["joint"]["open"] < RATES["wire"]["open"] < RATES["plug"]["open"]


def test_a_cavity_swapped_or_a_wire_crossed_is_rarer_than_one_that_is_open() -> None:
    # Common practice, no source: it takes a hand, or two bare spots that meet.
    for kind in ("wire", "cable", "plug"):
        assert RATES[kind]["crossed"] < RATES[kind]["open"] / 2
    assert RATES["wire"]["crossed"] < RATES["wire"]["earthed"]
    assert RATES["lamp"]["shorted"] < RATES["lamp"]["dead"] / 50
