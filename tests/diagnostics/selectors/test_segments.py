"""Verdicts by stretch, the worst first, with the proof in words."""

import pytest

import harness
from diagnostics.selectors.segments import STRETCHES, percent_words, stretches
from tests.diagnostics.builders import BENCH_TOML

H = harness.loads(BENCH_TOML, name="bench example")


def said(
    verdict: str, stretch: str = "switched feed", p: float = 0.0, **more: object
) -> dict[str, object]:
    return {
        "verdict": verdict,
        "probability": p,
        "proof": [],
        "stretch": stretch,
        "proven_amps": None,
        **more,
    }


def test_the_stretches_stand_in_the_order_that_current_goes() -> None:
    found = stretches(
        h=H,
        segments={
            f"wire:{number}": said("untested", stretch)
            for number, stretch in enumerate(reversed(STRETCHES), start=1)
        },
    )
    assert [stretch.name for stretch in found] == list(STRETCHES)


def test_the_engine_knows_the_same_stretches() -> None:
    assert STRETCHES == harness.STRETCHES


def test_the_worst_stands_first_and_is_counted() -> None:
    (stretch,) = stretches(
        h=H,
        segments={
            "wire:3": said("sound"),
            "wire:6": said("suspect", p=0.1),
            "wire:7": said("suspect", p=0.3),
            "wire:8": said("faulty", p=0.96),
            "wire:9": said("untested"),
        },
    )
    assert [view.segment for view in stretch.bad] == ["wire:8", "wire:7", "wire:6"]
    assert [view.segment for view in stretch.segments][-2:] == ["wire:9", "wire:3"]
    assert stretch.tally == "1 faulty, 2 suspect, 1 untested, 1 sound"


def test_a_proof_keeps_the_current_it_was_proven_at() -> None:
    # A test lamp draws a quarter of an ampere: it proves a path, no more.
    (stretch,) = stretches(
        h=H,
        segments={"wire:3": said("sound", proof=["finding 4"], proven_amps=0.2489)},
    )
    (view,) = stretch.sound
    assert view.words == "Proven at 0.25 A, not for more, by"
    assert view.proof == (4,)
    assert view.label.startswith("Wire 3 (blue, BU)")


def test_what_points_to_a_suspect_is_named() -> None:
    (stretch,) = stretches(
        h=H, segments={"wire:3": said("suspect", p=0.4, proof=["finding 1"])}
    )
    assert (stretch.bad[0].words, stretch.bad[0].percent) == ("Pointed to by", "40 %")


def test_a_line_names_three_findings_and_counts_the_others() -> None:
    proof = [f"finding {number}" for number in range(1, 6)]
    (stretch,) = stretches(h=H, segments={"wire:3": said("sound", proof=proof)})
    (view,) = stretch.sound
    assert (view.named, view.others) == (("1", "2", "3"), "and 2 more")
    assert view.proof == (1, 2, 3, 4, 5)


@pytest.mark.parametrize(
    ("probability", "words"),
    [
        (0.0, "under 1 %"),
        (0.0099, "under 1 %"),
        (0.01, "1 %"),
        (0.5, "50 %"),
        (0.99, "99 %"),
        (0.995, "over 99 %"),
        (1.0, "over 99 %"),
    ],
)
def test_nothing_is_claimed_for_certain(probability: float, words: str) -> None:
    assert percent_words(probability) == words
