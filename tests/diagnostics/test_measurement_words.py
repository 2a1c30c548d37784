"""Numbers as a meter shows them."""

import pytest

from diagnostics.measurement_words import VERDICT_LABELS, figure


@pytest.mark.parametrize(
    ("value", "unit", "shown"),
    [
        (12.4, "V", "12.40 V"),
        (1.2649, "", "1.265"),
        (-12.0, "°C", "\N{MINUS SIGN}12 °C"),
        (62.5, "%", "62 %"),
        (140.0, "h", "140 h"),
        ("open", "Ω", "open (no path)"),
        (0.25, "A", "0.25 A"),
        (3.14159, "mΩ", "3.1 mΩ"),
    ],
)
def test_a_figure_is_rounded_by_its_unit(
    value: float | str, unit: str, shown: str
) -> None:
    assert figure(value, unit) == shown


def test_every_verdict_has_a_word() -> None:
    assert VERDICT_LABELS == {
        "good": "Good",
        "look-further": "Look further",
        "fault": "Fault",
    }
