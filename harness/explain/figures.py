"""What a test would have shown, in the words of its tool."""

import numpy as np

from harness.circuit import FloatArray
from harness.findings import (
    EYE_READS,
    FUSE_READS,
    LAMP_READS,
    UNITS,
    Test,
    is_fuse,
)
from harness.likelihood import eye_chances, fuse_chances, lamp_chances
from harness.model import Harness


def shown_words(h: Harness, test: Test, shown: float) -> str:
    """Return what a test shows: a word with its figure, or a number with its unit.

    Examples
    --------
    A lamp that gets next to nothing reads ``dark (0 V across it)``.
    """
    if np.isnan(shown):
        return "nothing steady"
    value: FloatArray = np.array([shown])
    if test.tool == "test-lamp":
        word = LAMP_READS[int(lamp_chances(value, h.volts)[:, 0].argmax())]
        return f"{word} ({figure(abs(shown))} V across it)"
    if test.tool == "eye":
        fuse = is_fuse(h, test.device)
        words = FUSE_READS if fuse else EYE_READS
        chances = fuse_chances(value) if fuse else eye_chances(value)
        word = words[int(chances[:, 0].argmax())]
        return f"{word} ({share_words(shown)})" if word == "weak" else word
    if np.isinf(shown):
        return "open"
    return f"{figure(shown)} {UNITS[test.tool]}"


def share_words(share: float) -> str:
    """Return a share of a consumer's healthy volts."""
    return f"{100 * share:.0f} % of its volts"


def figure(value: float) -> str:
    """Return a number with no more figures than a meter has.

    Examples
    --------
    >>> figure(12.3456), figure(0.0521), figure(1e-7), figure(-0.001), figure(1234.6)
    ('12.3', '0.05', '0', '0', '1235')
    """
    if abs(value) >= 100:  # noqa: PLR2004 - from here on no decimals
        return f"{value:.0f}"
    digits = 1 if abs(value) >= 10 else 2  # noqa: PLR2004 - three figures
    text = f"{value:.{digits}f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def verb_for(test: Test) -> str:
    """Return how a test's reading is spoken of, after ``would have``."""
    return "been" if test.tool in {"eye", "test-lamp"} else "read"


def subject_for(h: Harness, test: Test) -> str:
    """Return what gives the reading: ``the horn``, ``the lamp``, ``the meter``."""
    if test.tool == "eye":
        owner, _, filament = test.device.partition(".")
        name = h.devices[owner].title
        name = name[0].lower() + name[1:] if not name[1:2].isupper() else name
        return f"the {name}'s {filament} filament" if filament else f"the {name}"
    return {"test-lamp": "the test lamp", "ammeter": "the clamp"}.get(
        test.tool, "the meter"
    )


def would_have(h: Harness, test: Test, shown: float) -> str:
    """Return what a test would have shown: ``would have been dark (0 V across it)``."""
    words = shown_words(h, test, shown)
    if words == "works":
        return "would have worked"
    return f"would have {verb_for(test)} {words}"
