"""What an invented bike shows to test lamp, meter and eye, with its hidden fault in."""

from dataclasses import dataclass, replace
from functools import lru_cache

import harness
from diagnostics.convert import FindingEntry, where_of
from diagnostics.demo.invented import BIKES
from diagnostics.demo.shop_floor import LIBRARY


@dataclass(frozen=True, slots=True, kw_only=True)
class Meter:
    """One bike as it really is, which nobody at the bench can see."""

    h: harness.Harness
    fault: tuple[str, ...]
    mended: bool

    @property
    def segment(self) -> str:
        """The segment that is bad, or was."""
        return self.fault[0]

    @property
    def mode(self) -> str:
        """How it is bad, or was."""
        return self.fault[1]

    def read(self, entry: FindingEntry) -> FindingEntry:
        """Return the entry with what the bike shows in that test."""
        test = {
            "rig": dict(entry.rig),
            "tool": entry.tool,
            "moving": entry.moving,
            **where_of(entry),
        }
        faults = () if self.mended else (self.fault,)
        shown = harness.shown(self.h, test, faults=faults)
        # Adding nothing takes the sign off a nought.
        reads = shown if isinstance(shown, str) else f"{round(shown, 2) + 0.0:.2f}"
        return replace(entry, reads=reads)

    def complaint(self) -> tuple[FindingEntry, ...]:
        """Return what works, is weak or dead, consumer by consumer."""
        return tuple(
            self.read(
                FindingEntry(
                    tool="eye", reads="", rig=said["rig"], device=said["device"]
                )
            )
            for said in harness.complaints(self.h)
        )


@lru_cache(maxsize=16)
def meter_of(bike: str, *, mended: bool) -> Meter:
    """Return the meter at one of the invented bikes."""
    invented = BIKES[bike]
    h = harness.load(LIBRARY / invented.drawing)
    return Meter(h=h, fault=invented.fault, mended=mended)
