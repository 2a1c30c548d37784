"""What confirmed repairs teach."""

import harness
from diagnostics.experience import experience_of
from diagnostics.selectors.confirmed_repairs import ConfirmedRepair
from tests.diagnostics.builders import BENCH_TOML

H = harness.loads(BENCH_TOML)
Confirmed = harness.priors.Confirmed


def repair(mode: str, *segments: str) -> tuple[harness.Harness, ConfirmedRepair]:
    return H, ConfirmedRepair(sha256="", segments=segments, mode=mode)


def test_a_shop_that_has_proven_nothing_has_learned_nothing() -> None:
    known = experience_of([])
    assert known.repairs == 0
    assert known.learned == harness.priors.learned([])


def test_a_repair_counts_for_its_kind_mode_and_place() -> None:
    known = experience_of([repair("resistive", "plug:tail-plug.2")])
    assert known.repairs == 1
    assert known.learned.history == (
        Confirmed("plug", "resistive", 1.0, "rear-mudguard"),
    )


def test_what_was_put_right_together_has_equal_parts_of_one_repair() -> None:
    known = experience_of([repair("open", "wire:7", "wire:5", "plug:tail-plug.1")])
    assert known.repairs == 1
    assert abs(known.learned.repairs - 1.0) < 1e-12
    assert {row.kind for row in known.learned.history} == {"wire", "plug"}


def test_only_what_can_be_bad_in_that_way_counts() -> None:
    # A horn does not blow; its fuse does.
    known = experience_of([repair("blown", "device:horn", "fuse:main-fuse")])
    assert known.learned.history == (Confirmed("fuse", "blown", 1.0, "battery-tray"),)


def test_a_repair_that_names_nothing_bad_is_not_counted() -> None:
    known = experience_of([repair("open"), repair("blown", "device:horn")])
    assert known.repairs == 0
    assert known.learned == harness.priors.learned([])
