"""How a mode's rate is shared among the faults that stand for it."""

from collections import defaultdict

import pytest

from harness.faults import single_faults
from harness.priors.segment_kinds import kind_of_segment
from harness.priors.shares import MOVED_SHARE, MOVED_TABLE, variant_shares
from harness.segments import segments_of
from tests.harness.library import LOOMS, loom
from tests.harness.priors.looms import every_kind


@pytest.mark.parametrize("file", LOOMS)
def test_the_shares_of_each_mode_sum_to_one(file: str) -> None:
    h = loom(file)
    sums: dict[tuple[str, str], float] = defaultdict(float)
    for fault, share in zip(single_faults(h), variant_shares(h).tolist(), strict=True):
        assert 0 < share <= 1
        sums[fault.segment, fault.mode] += share
    assert sums
    for whole in sums.values():
        assert whole == pytest.approx(1.0)


def test_sizes_of_a_bad_contact_and_neighbours_have_equal_shares() -> None:
    h = every_kind()
    alike: dict[tuple[str, str], set[float]] = defaultdict(set)
    for fault, share in zip(single_faults(h), variant_shares(h).tolist(), strict=True):
        if fault.mode in {"resistive", "crossed", "weak"}:
            alike[fault.segment, fault.mode].add(share)
    assert {mode for _, mode in alike} == {"resistive", "crossed", "weak"}
    for shares in alike.values():
        assert len(shares) == 1


def test_of_the_open_contacts_a_part_is_open_only_when_the_loom_is_moved() -> None:
    h = every_kind()
    seen = set()
    for fault, share in zip(single_faults(h), variant_shares(h).tolist(), strict=True):
        if fault.moved:
            kind = kind_of_segment(h, segments_of(h)[fault.segment])
            assert share == pytest.approx(MOVED_SHARE[kind])
            seen.add(kind)
    # A share for every kind of contact that can be intermittent, and for no other.
    assert seen == set(MOVED_SHARE)


def test_most_open_contacts_stay_open_and_plugs_come_and_go_most() -> None:
    # Common practice, no source.
    assert max(MOVED_SHARE.values()) == MOVED_SHARE["plug"] < 0.5
    assert all(row.reason.endswith(".") for row in MOVED_TABLE)


def test_shares_that_are_kept_cannot_be_changed() -> None:
    with pytest.raises(ValueError, match="read-only"):
        variant_shares(every_kind())[0] = 2.0
