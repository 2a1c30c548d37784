"""A loom in plain words: rigs, terminals, wires, segments, tools and readings."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import harness

TOOL_LABELS = {
    "test-lamp": "Test lamp",
    "voltmeter": "Voltmeter",
    "ohmmeter": "Ohmmeter",
    "ammeter": "Clamp meter",
    "eye": "Eye and ear",
}
MODE_LABELS = {
    "open": "open",
    "resistive": "bad contact",
    "earthed": "chafed through to the frame",
    "crossed": "crossed with its neighbour",
    "stuck": "stuck closed",
    "shorted": "shorted inside",
    "blown": "blown",
    "dead": "dead inside",
    "weak": "weak",
}
READING_LABELS = {
    "lit": "Lit",
    "dim": "Dim",
    "dark": "Dark",
    "works": "Works",
    "weak": "Weak",
    "dead": "Dead",
    "intact": "Intact",
    "blown": "Blown",
    "open": "Open (no path)",
}
UNIT_SIGNS = {"voltmeter": "V", "ohmmeter": "\N{OHM SIGN}", "ammeter": "A"}


@dataclass(frozen=True, kw_only=True)
class WireView:
    """A wire at a terminal: its letters always, their meaning beside them."""

    wire_id: str
    letters: str
    words: str
    other_end: str


@dataclass(frozen=True, kw_only=True)
class TerminalView:
    """Where a lead is held: the device, the pin, its place and the wires on it."""

    terminal: str
    device: str
    pin: str
    place: str
    wires: tuple[WireView, ...]


def rig_words(h: harness.Harness, rig: Mapping[str, Any]) -> str:
    """Return a rig in one line: “Key switch to ON, horn button held at PRESSED”."""
    return capital(harness.rig_words(h, harness.rig_from(h, rig)))


def state_words(h: harness.Harness, rig: Mapping[str, Any], *, moving: bool) -> str:
    """Return the rig that something was read in, and whether the loom was moved."""
    words = rig_words(h, rig)
    return f"{words}, while the loom was moved" if moving else words


def clamp_words(h: harness.Harness, wire_id: str) -> str:
    """Return what a clamp is closed round: the wire with its letters and both ends."""
    return f"Round {harness.segment_words(h, f'wire:{wire_id}')}"


def device_words(h: harness.Harness, device: str) -> str:
    """Return what a person calls a device or one filament of it."""
    name, _, part = device.partition(".")
    known = h.devices.get(name)
    title = known.title if known else name
    return f"{title} ({part})" if part else title


def kind_of(h: harness.Harness, device: str) -> str:
    """Return the kind of a device or of one filament of it; empty where unknown."""
    known = h.devices.get(device.partition(".")[0])
    return known.kind if known else ""


def terminal_view(h: harness.Harness, terminal: str) -> TerminalView:
    """Return everything that helps to find a terminal on the bike."""
    name, _, pin = terminal.partition(".")
    device = h.devices.get(name)
    place = h.places.get(device.place) if device and device.place else None
    return TerminalView(
        terminal=terminal,
        device=device_words(h, name),
        pin=pin,
        place=place.name if place else "",
        wires=tuple(
            wire_view(h, wire.id, seen_from=terminal)
            for wire in h.wires.values()
            if terminal in (wire.start, wire.end)
        ),
    )


def wire_view(h: harness.Harness, wire_id: str, *, seen_from: str = "") -> WireView:
    """Return a wire with its letters, their meaning and where it goes."""
    wire = h.wires[wire_id]
    letters = (wire.colour or "").upper()
    other = wire.start if wire.end == seen_from else wire.end
    return WireView(
        wire_id=wire_id,
        letters=letters,
        words=harness.colour_words(letters) if letters else wire.kind,
        other_end=other,
    )


def segment_words(h: harness.Harness, segment: str) -> str:
    """Return a segment as a person would say it, with a capital."""
    return _all_segments_in_words(h)[segment]


@lru_cache(maxsize=16)
def _all_segments_in_words(h: harness.Harness) -> dict[str, str]:
    return {
        name: capital(harness.segment_words(h, name)) for name in harness.segments_of(h)
    }


def fault_lines(
    h: harness.Harness, faults: Sequence[Sequence[str]], *, said: str
) -> tuple[str, ...]:
    """Return an explanation in words, one line a fault; none is a healthy loom."""
    if not faults:
        return ("Nothing wrong with the loom as drawn",)
    told = said.split(_AND)
    if len(told) != len(faults):
        told = [segment_words(h, segment) for segment, *_ in faults]
    return tuple(capital(line) for line in told)


# Between the faults of one explanation, as the engine says them.
_AND = "; and "


def word_choices(tool: str, kind: str) -> tuple[tuple[str, str], ...]:
    """Return the readings in words that a tool can give there; none for a meter."""
    if tool == "eye":
        words = _FUSE_WORDS if kind == "fuse" else _EYE_WORDS
    else:
        words = _LAMP_WORDS if tool == "test-lamp" else ()
    return tuple((word, READING_LABELS[word]) for word in words)


_FUSE_WORDS: tuple[str, ...] = ("intact", "blown")
_EYE_WORDS: tuple[str, ...] = ("works", "weak", "dead")
_LAMP_WORDS: tuple[str, ...] = ("lit", "dim", "dark")


def reading_words(tool: str, reads: str) -> str:
    """Return a reading with its unit, or the word for it."""
    if reads in READING_LABELS:
        return READING_LABELS[reads]
    figure = reads.replace("-", "\N{MINUS SIGN}")
    return f"{figure} {UNIT_SIGNS.get(tool, '')}".strip()


def spot_words(h: harness.Harness, terminal: str) -> str:
    """Return a terminal in words: the device and the pin."""
    return harness.terminal_words(h, terminal)


_TWICE = re.compile(r"\b(findings?) finding (?=\d)", re.IGNORECASE)


def told_plainly(text: str) -> str:
    """Return a sentence of the engine's, which calls a finding by its whole name.

    Examples
    --------
    >>> told_plainly("Finding finding 4 was misread.")
    'Finding 4 was misread.'
    """
    return _TWICE.sub(r"\1 ", text)


def capital(text: str) -> str:
    """Return the text with a capital first letter."""
    return text[:1].upper() + text[1:]
