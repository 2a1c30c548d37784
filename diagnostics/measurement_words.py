"""Numbers of a measurement as a person reads them: rounded as a meter shows them."""

from harness import measurements

VERDICT_LABELS = {verdict.value: verdict.label for verdict in measurements.Verdict}
OPEN_WORDS = "open (no path)"
# Digits after the point by unit; a gravity, which has none, has three.
_DIGITS = {
    "V": 2,
    "V a.c.": 1,
    "A": 2,
    "mA": 1,
    "\N{GREEK CAPITAL LETTER OMEGA}": 2,
    "k\N{GREEK CAPITAL LETTER OMEGA}": 2,
    "m\N{GREEK CAPITAL LETTER OMEGA}": 1,
    "%": 0,
    "°C": 1,
    "h": 1,
    "Ah": 1,
    "rpm": 0,
    "": 3,
}


def figure(value: float | str, unit: str) -> str:
    """Return a number with its unit.

    Examples
    --------
    >>> figure(12.4, "V"), figure(1.25, ""), figure(25.0, "°C"), figure("open", "V")
    ('12.40 V', '1.250', '25 °C', 'open (no path)')
    """
    if isinstance(value, str):
        return OPEN_WORDS if value == "open" else value
    digits = _DIGITS.get(unit, 2)
    text = f"{value:.{digits}f}"
    if unit in {"°C", "h", "mA", "Ah", "V a.c."}:
        text = text.removesuffix(".0")
    return f"{text} {unit}".strip().replace("-", "\N{MINUS SIGN}")
