"""What the shop needs to know about a bike's electrics before touching it."""

from enum import IntEnum, StrEnum


class EarthPolarity(StrEnum):
    """Which battery terminal is tied to frame and engine."""

    NEGATIVE = "negative"
    POSITIVE = "positive"


EARTH_LABELS: dict[EarthPolarity, str] = {
    EarthPolarity.NEGATIVE: "Negative earth",
    EarthPolarity.POSITIVE: "Positive earth",
}


class SystemVoltage(IntEnum):
    """Nominal battery voltage."""

    SIX = 6
    TWELVE = 12


FIRST_YEAR = 1885
LAST_YEAR = 2100
