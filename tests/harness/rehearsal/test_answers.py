"""What instruments answer: sound, strayed, slipped, or as likely as the engine says."""

from collections import Counter
from functools import cache

import numpy as np
import pytest

from harness import findings
from harness.findings import Finding, Test
from harness.likelihood import BLUNDER_CLAMP, BLUNDER_METER, amp_width, volt_width
from harness.model import Harness
from harness.predictions import log_chance
from harness.rehearsal.answers import (
    AsLikely,
    Instruments,
    Slips,
    Sound,
    answer,
    displayed,
    drawn_words,
)
from tests.harness.small_looms import HORN, LEAD_OFF, horn_and_tail

INF = float("inf")
MANY = 4000


@cache
def bike() -> Harness:
    return horn_and_tail()


def made(tool: str, **more: object) -> Test:
    return findings.test_from(bike(), {"rig": HORN, "tool": tool} | more, where="t")


LAMP = made("test-lamp", probe="horn.1")
VOLTS = made("voltmeter", probe="horn.1")
CLAMP = made("ammeter", wire="4")
EYE = made("eye", device="horn")
FUSE = made("eye", device="main-fuse", rig={})
OHMS = made("ohmmeter", probe="horn.1", clip="horn.2", rig=LEAD_OFF)


def many(
    instruments: Instruments, test: Test, shown: float
) -> list[tuple[Finding, bool]]:
    random = np.random.default_rng(5)
    return [
        instruments.answer(bike(), test, shown, random, id_="x") for _ in range(MANY)
    ]


@pytest.mark.parametrize(
    ("test", "shown", "reads"),
    [
        (LAMP, 11.9, "lit"),
        (LAMP, -5.0, "dim"),
        (LAMP, 0.4, "dark"),
        (EYE, 1.0, "works"),
        (EYE, 0.6, "weak"),
        (EYE, 0.1, "dead"),
        (FUSE, 0.0, "intact"),
        (FUSE, 1.0, "blown"),
        (VOLTS, 12.3456, "12.35"),
        (CLAMP, -2.561, "-2.56"),
        (OHMS, 4.83, "4.8"),
        (OHMS, INF, "open"),
    ],
)
def test_a_sound_instrument_shows_what_is_there(
    test: Test, shown: float, reads: str
) -> None:
    finding, wrong = Sound().answer(
        bike(), test, shown, np.random.default_rng(1), id_="f1"
    )
    assert (finding.reads, wrong, finding.id) == (reads, False, "f1")
    assert finding == answer(bike(), test, shown, id_="f1")


@pytest.mark.parametrize(
    ("test", "shown", "on_display"),
    [
        (VOLTS, 0.004, 0.0),
        (VOLTS, -0.004, 0.0),
        (OHMS, 0.04, 0.0),
        (OHMS, 47.28, 47.3),
        (OHMS, 1234.0, 1230.0),
        (CLAMP, 151.829, 151.83),
    ],
)
def test_a_display_has_its_last_figure(
    test: Test, shown: float, on_display: float
) -> None:
    assert displayed(test, shown) == on_display
    assert str(displayed(test, shown))[0] != "-" or on_display < 0


@pytest.mark.parametrize(
    ("test", "shown", "width"),
    [
        (VOLTS, 11.9, float(volt_width(np.array(11.9)))),
        (CLAMP, 2.5, float(amp_width(np.array(2.5)))),
        (OHMS, 4.8, 0.15 + 0.10 * 4.8),
    ],
)
def test_a_meter_strays_by_its_width(test: Test, shown: float, width: float) -> None:
    found = many(Slips(0.0), test, shown)
    values = np.array([finding.value for finding, _ in found])
    assert not any(wrong for _, wrong in found)
    assert float(values.mean()) == pytest.approx(shown, abs=0.1 * width + 0.03)
    assert float(values.std()) == pytest.approx(width, rel=0.15)


def test_words_without_slips_are_those_of_what_is_there() -> None:
    assert {f.reads for f, _ in many(Slips(0.0), LAMP, 11.9)} == {"lit"}
    assert {f.reads for f, _ in many(Slips(0.0), OHMS, INF)} == {"open"}


@pytest.mark.parametrize(("test", "shown"), [(LAMP, 11.9), (VOLTS, 11.9), (EYE, 1.0)])
def test_one_reading_in_twenty_is_plain_wrong_when_asked_for(
    test: Test, shown: float
) -> None:
    found = many(Slips(0.05), test, shown)
    share = sum(wrong for _, wrong in found) / MANY
    # Four standard deviations of a share of so many.
    assert share == pytest.approx(0.05, abs=4 * (0.05 * 0.95 / MANY) ** 0.5)
    honest = answer(bike(), test, shown).reads
    slipped = [f for f, wrong in found if wrong]
    assert all(f.reads != honest for f in slipped)


@pytest.mark.parametrize(
    ("test", "shown", "words"),
    [
        (LAMP, 0.74 * 12, ("lit", "dim", "dark")),
        (EYE, 0.86, ("works", "weak", "dead")),
        (FUSE, 1.0, ("intact", "blown")),
    ],
)
def test_words_are_drawn_as_likely_as_the_engine_says(
    test: Test, shown: float, words: tuple[str, ...]
) -> None:
    counts = Counter(f.reads for f, _ in many(AsLikely(), test, shown))
    for word in words:
        finding = Finding("x", test, word)
        p = float(np.exp(log_chance(bike(), finding, np.array([shown]))[0]))
        spread = 4 * (p * (1 - p) / MANY) ** 0.5
        assert counts[word] / MANY == pytest.approx(p, abs=spread + 1e-9), word


@pytest.mark.parametrize(
    ("test", "shown", "blunder"),
    [
        (VOLTS, 11.9, BLUNDER_METER),
        (OHMS, 4.8, BLUNDER_METER),
        (OHMS, INF, BLUNDER_METER),
        (CLAMP, 2.5, BLUNDER_CLAMP),
    ],
)
def test_meters_blunder_as_often_as_the_engine_says(
    test: Test, shown: float, blunder: float
) -> None:
    found = many(AsLikely(), test, shown)
    share = sum(wrong for _, wrong in found) / MANY
    assert share == pytest.approx(blunder, abs=4 * (blunder / MANY) ** 0.5)
    if np.isinf(shown):
        honest = [f.reads for f, wrong in found if not wrong]
        assert set(honest) == {"open"}


def test_words_are_drawn_column_by_column() -> None:
    chances = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]])
    drawn = drawn_words(chances, np.random.default_rng(2))
    assert drawn.tolist() == [0, 1, 2]
    even = np.full((3, 9000), 1 / 3)
    shares = np.bincount(drawn_words(even, np.random.default_rng(3))) / 9000
    assert shares == pytest.approx([1 / 3] * 3, abs=0.03)
