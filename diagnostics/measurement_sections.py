"""The measurements of a case in its report."""

from collections.abc import Sequence

from diagnostics.selectors.measurements import HeldView, MeasurementView
from shop.seams import Block, Heading, Table


def measurement_blocks(
    case_title: str, measured: Sequence[MeasurementView]
) -> list[Block]:
    """Return heading and table; nothing where nothing was measured."""
    if not measured:
        return []
    table = Table(
        caption=f"Measurements of “{case_title}”",
        head=("No.", "Measurement", "Verdict", "Held against"),
        rows=tuple(
            (
                str(view.sequence),
                f"{view.title}. {view.read}",
                _verdict(view),
                " ".join(_held(held) for held in view.held),
            )
            for view in measured
        ),
        numeric=(0,),
    )
    return [Heading("Measurements, each held against its limit"), table]


def _verdict(view: MeasurementView) -> str:
    if view.void:
        return f"{view.verdict_label} (void: {view.void.reason})"
    return f"{view.verdict_label}: {view.says}"


def _held(held: HeldView) -> str:
    return f"{held.limit}. {held.source} ({held.standing})."
