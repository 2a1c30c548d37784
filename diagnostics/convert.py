"""Rows to what the engine takes, and what people type to rows."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal, InvalidOperation
from typing import Any, Protocol

from diagnostics.models import TOOLS, Finding
from shop.domain.refusals import Refusal

LAMP_READS = ("lit", "dim", "dark")
EYE_READS = ("works", "weak", "dead", "intact", "blown")
WORD_READS: dict[str, tuple[str, ...]] = {"test-lamp": LAMP_READS, "eye": EYE_READS}
UNITS = {"voltmeter": "V", "ohmmeter": "ohm", "ammeter": "A"}

_MOST = {
    "voltmeter": Decimal(1000),
    "ohmmeter": Decimal(10) ** 9,
    "ammeter": Decimal(1000),
}
_LONGEST_NUMBER = 24
# A millionth of a volt, ohm or ampere: finer than any meter at a bench.
_MOST_DECIMALS = 6
LONGEST_NOTE = 400


class Where(Protocol):
    """Anything that says with which tool and where something was read."""

    @property
    def tool(self) -> str:
        """What was used."""

    @property
    def probe(self) -> str:
        """Where the probe was held."""

    @property
    def clip(self) -> str:
        """Where the clip was."""

    @property
    def device(self) -> str:
        """What was looked at."""

    @property
    def wire(self) -> str:
        """What the clamp was closed round."""


class Reading(Where, Protocol):
    """Anything that says what was read as well, and how the bike stood then."""

    @property
    def rig(self) -> Mapping[str, Any]:
        """The positions of the switches."""

    @property
    def reads(self) -> str:
        """What was read."""

    @property
    def moving(self) -> bool:
        """Whether the loom was being moved meanwhile."""


@dataclass(frozen=True, kw_only=True)
class FindingEntry:
    """A finding as somebody enters it, before the engine has looked at it."""

    tool: str
    reads: str
    rig: Mapping[str, Any] = field(default_factory=dict)
    probe: str = ""
    clip: str = ""
    device: str = ""
    wire: str = ""
    moving: bool = False
    note: str = ""


def tidied(entry: FindingEntry, *, first_body: str | None) -> FindingEntry:
    """Return the entry in the one form that is stored.

    Raises
    ------
    Refusal
        Where the tool is unknown, a place is missing, or the reading is none that
        the tool can give.
    """
    if entry.tool not in TOOLS:
        raise Refusal(
            "tool-unknown",
            f"There is no tool called “{entry.tool}”; choose {_one_of(TOOLS)}.",
            "tool",
        )
    if len(entry.note) > LONGEST_NOTE:
        raise Refusal(
            "note-too-long", f"Keep the note to {LONGEST_NOTE} characters.", "note"
        )
    reads = reading(entry.tool, entry.reads)
    rig = {key: entry.rig[key] for key in sorted(entry.rig)}
    return replace(_placed(entry, first_body), reads=reads, rig=rig)


def _placed(entry: FindingEntry, first_body: str | None) -> FindingEntry:
    """Return the entry with the places that its tool has, and no others."""
    bare = replace(entry, probe="", clip="", device="", wire="")
    if entry.tool == "eye":
        if not entry.device:
            raise Refusal("device-missing", "Say which device you looked at.", "device")
        return replace(bare, device=entry.device)
    if entry.tool == "ammeter":
        if not entry.wire:
            raise Refusal("wire-missing", "Say which wire the clamp was on.", "wire")
        return replace(bare, wire=entry.wire)
    if not entry.probe:
        raise Refusal("probe-missing", "Say where the probe was held.", "probe")
    clip = entry.clip or first_body or ""
    if not clip:
        raise Refusal("clip-missing", "Say where the clip was.", "clip")
    return replace(bare, probe=entry.probe, clip=clip)


def reading(tool: str, typed: str) -> str:
    """Return a reading in its stored form: a word, or a plain decimal number.

    A comma is as good as a point, and a true minus sign as good as a hyphen.

    Raises
    ------
    Refusal
        Where the tool cannot give such a reading.

    Examples
    --------
    >>> reading("voltmeter", "12,40")
    '12.40'
    """
    text = typed.strip().lower()
    if tool in WORD_READS:
        if text not in WORD_READS[tool]:
            raise Refusal(
                "reading-unknown",
                f"“{typed}” is no reading of this tool; "
                f"choose {_one_of(WORD_READS[tool])}.",
                "reads",
            )
        return text
    if tool == "ohmmeter" and text == "open":
        return text
    return _number(tool, typed)


def _number(tool: str, typed: str) -> str:
    text = typed.strip().replace(",", ".").replace("\N{MINUS SIGN}", "-")
    text = text.removeprefix("+")
    also = " or “open”" if tool == "ohmmeter" else ""
    try:
        value = Decimal(text)
    except InvalidOperation:
        value = Decimal("NaN")
    if not text.isascii() or not value.is_finite() or len(text) > _LONGEST_NUMBER:
        raise Refusal(
            "reading-no-number",
            f"“{typed.strip()[:40]}” is not a number; write {UNITS[tool]} as 12.4 "
            f"or 12,4{also}.",
            "reads",
        )
    if abs(value) > _MOST[tool]:
        raise Refusal(
            "reading-out-of-range",
            f"{text} {UNITS[tool]} is more than such a meter shows; "
            "check the range that it was set to.",
            "reads",
        )
    if tool == "ohmmeter" and value < 0:
        raise Refusal(
            "reading-out-of-range",
            "A resistance cannot be negative; the circuit may still have had voltage "
            "on it. Take the battery lead off and measure again.",
            "reads",
        )
    if int(value.as_tuple().exponent) < -_MOST_DECIMALS:
        value = round(value, _MOST_DECIMALS)
    return f"{value + 0:f}"


def engine_finding(*, finding_id: str, entry: Reading) -> dict[str, Any]:
    """Return a finding as the engine takes it."""
    return {
        "id": finding_id,
        "rig": dict(entry.rig),
        "tool": entry.tool,
        "reads": engine_reading(entry.tool, entry.reads),
        **where_of(entry),
        **({"moving": True} if entry.moving else {}),
    }


def where_of(taken: Where) -> dict[str, str]:
    """Return what a finding names of the loom: a device, a wire, or both leads."""
    if taken.tool == "eye":
        return {"device": taken.device}
    if taken.tool == "ammeter":
        return {"wire": taken.wire}
    return {"probe": taken.probe, "clip": taken.clip}


def engine_reading(tool: str, reads: str) -> str | float:
    """Return a stored reading as the engine takes it: words as words, else a float."""
    if tool in WORD_READS or reads == "open":
        return reads
    return float(reads)


def entry_of(finding: Finding) -> FindingEntry:
    """Return a stored finding as an entry, to be taken again."""
    return FindingEntry(
        tool=finding.tool,
        reads=finding.reads,
        rig=finding.rig,
        probe=finding.probe,
        clip=finding.clip,
        device=finding.device,
        wire=finding.wire,
        moving=finding.moving,
        note=finding.note,
    )


def engine_id(sequence: int) -> str:
    """Return the name that a finding has in proofs and in the engine's sentences."""
    return f"finding {sequence}"


def sequence_of(name: str) -> int:
    """Return the number of the finding that a proof names."""
    return int(name.removeprefix("finding "))


def _one_of(words: Sequence[str]) -> str:
    return ", ".join(words[:-1]) + f" or {words[-1]}"
