"""The shop's confirmed repairs: those that the proof of a case followed."""

from dataclasses import dataclass

from diagnostics.models import Repair


@dataclass(frozen=True, kw_only=True)
class ConfirmedRepair:
    """What was put right on which drawing, and how it had been bad."""

    sha256: str
    segments: tuple[str, ...]
    mode: str


def confirmed_repairs() -> tuple[ConfirmedRepair, ...]:
    """Return the confirmed repairs of all cases, in the order they were made."""
    rows = Repair.objects.confirmed().values_list(
        "case__harness_file__sha256", "segments", "mode"
    )
    return tuple(
        ConfirmedRepair(sha256=sha256, segments=tuple(segments), mode=mode)
        for sha256, segments, mode in rows
    )
