"""Hunts kept between taps conclude what they would conclude from the beginning."""

from threading import Thread

import pytest

import harness
from diagnostics.experience import Experience, experience_of
from diagnostics.kept_hunts import Hunt, KeptHunts, try_out
from tests.diagnostics.builders import BENCH_TOML, HORN, STOP, TAIL

H = harness.loads(BENCH_TOML, name="bench example")
KNOWN = experience_of([])


def seen(
    number: int, device: str, reads: str, rig: dict[str, str]
) -> dict[str, object]:
    """Return a look as the engine takes it."""
    return {
        "id": f"finding {number}",
        "tool": "eye",
        "device": device,
        "rig": rig,
        "reads": reads,
    }


DEAD = seen(1, "horn", "dead", HORN)
STOPS = seen(2, "rear-lamp.stop", "works", STOP)
GLOWS = seen(3, "rear-lamp.tail", "works", TAIL)


def test_a_hunt_goes_on_from_where_it_was() -> None:
    kept = KeptHunts()
    with kept.in_hand(H, KNOWN, [DEAD]) as hunt:
        hunt.tell(STOPS)
        first = hunt
    with kept.in_hand(H, KNOWN, [DEAD, STOPS]) as hunt:
        assert hunt is first
        hunt.tell(GLOWS)
    anew = harness.Case(H)
    for finding in (DEAD, STOPS, GLOWS):
        anew.add(finding)
    for ours, theirs in zip(first.case.faults(), anew.faults(), strict=True):
        assert ours["faults"] == theirs["faults"]
        assert ours["probability"] == pytest.approx(theirs["probability"])


def test_what_was_told_otherwise_or_of_another_loom_is_another_hunt() -> None:
    kept = KeptHunts()
    with kept.in_hand(H, KNOWN, [DEAD]) as first:
        pass
    other_loom = harness.loads(BENCH_TOML, name="another of its kind")
    learned = harness.priors.learned(
        [harness.priors.confirmed_on(H, "wire:5", "open", 1.0)]
    )
    for h, known, findings in (
        (H, KNOWN, []),
        (H, KNOWN, [STOPS]),
        (H, KNOWN, [DEAD, STOPS]),
        (H, Experience(repairs=1, learned=learned), [DEAD]),
        (other_loom, KNOWN, [DEAD]),
    ):
        with kept.in_hand(h, known, findings) as hunt:
            assert hunt is not first
            assert len(hunt.case.findings) == len(findings)


def test_a_hunt_in_which_something_went_wrong_is_forgotten() -> None:
    kept = KeptHunts()
    impossible = seen(2, "horn", "dead", {"key-switch": "SIDEWAYS"})
    with pytest.raises(harness.HarnessError), kept.in_hand(H, KNOWN, [DEAD]) as hunt:
        hunt.tell(impossible)
    assert not kept.has(H, [DEAD])
    with kept.in_hand(H, KNOWN, [DEAD]) as hunt:
        assert len(hunt.case.findings) == 1
    assert kept.has(H, [DEAD])


def test_only_the_latest_are_kept() -> None:
    kept = KeptHunts(most=2)
    for findings in ([DEAD], [STOPS], [DEAD], [GLOWS]):
        with kept.in_hand(H, KNOWN, findings):
            pass
    assert [kept.has(H, [one]) for one in (DEAD, STOPS, GLOWS)] == [True, False, True]


def test_two_hands_on_one_hunt_wait_for_each_other() -> None:
    kept = KeptHunts()
    got: list[Hunt] = []

    def second() -> None:
        with kept.in_hand(H, KNOWN, [DEAD]) as hunt:
            got.append(hunt)

    with kept.in_hand(H, KNOWN, [DEAD]) as first:
        other = Thread(target=second)
        other.start()
        other.join(timeout=0.2)
        assert other.is_alive()
        first.tell(STOPS)
    other.join(timeout=30)
    # The first went on meanwhile, so the second began its own.
    assert got[0] is not first
    assert len(got[0].case.findings) == 1


def test_a_hunt_tried_out_leaves_the_kept_ones_as_they_were() -> None:
    kept = KeptHunts()
    with kept.in_hand(H, KNOWN, [DEAD]):
        pass
    try_out(H, KNOWN, [DEAD, STOPS])
    assert kept.has(H, [DEAD])
    assert not kept.has(H, [DEAD, STOPS])
