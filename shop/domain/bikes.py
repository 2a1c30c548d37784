"""What the shop needs to know about a bike's electrics before touching it."""

from dataclasses import dataclass, replace
from enum import IntEnum, StrEnum

from shop.domain.entries import TextRule, clean_member, tidied
from shop.domain.refusals import Refusal


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

_RULES = (
    TextRule("maker", "The maker", 80, required=True),
    TextRule("model", "The model", 80, required=True),
    TextRule("registration", "The registration", 40),
    TextRule("frame_number", "The frame number", 80),
    TextRule("engine_number", "The engine number", 80),
    TextRule("colour", "The colour", 80),
    TextRule("notes", "The note", 5000),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class BikeDetails:
    """What can be entered about a bike; numbers as they are stamped, free text."""

    maker: str
    model: str
    year: int | None = None
    registration: str = ""
    frame_number: str = ""
    engine_number: str = ""
    colour: str = ""
    system_volts: int = SystemVoltage.TWELVE
    earth: str = EarthPolarity.NEGATIVE
    notes: str = ""

    def checked(self) -> "BikeDetails":
        """Return the details tidied.

        Raises
        ------
        Refusal
            Where one is missing, too long, or a year, voltage or polarity that no
            bike has.

        Examples
        --------
        >>> BikeDetails(maker="Tarnfell", model=" Heron ", year=1961).checked().model
        'Heron'
        """
        if self.year is not None and not FIRST_YEAR <= self.year <= LAST_YEAR:
            raise Refusal(
                "year-implausible",
                f"The year must lie between {FIRST_YEAR} and {LAST_YEAR}; "
                "leave it empty where nobody knows.",
                "year",
            )
        return replace(
            tidied(self, _RULES),
            system_volts=clean_member(
                SystemVoltage,
                self.system_volts,
                field="system_volts",
                name="The system voltage",
            ).value,
            earth=clean_member(
                EarthPolarity, self.earth, field="earth", name="The earth polarity"
            ).value,
        )
