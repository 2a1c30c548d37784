"""``check``: is a harness file good, and what is in it."""

from argparse import ArgumentParser, Namespace
from collections import Counter

from harness.commands.command import Answer, Command, table
from harness.files import load
from harness.model import Harness


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("bike", metavar="BIKE.toml", help="a harness file")


def _run(given: Namespace) -> Answer:
    h = load(given.bike)
    kinds = Counter(device.kind for device in h.devices.values())
    document: dict[str, object] = {
        "file": given.bike,
        "good": True,
        "title": h.title,
        "volts": h.volts,
        "earth": h.earth,
        "places": len(h.places),
        "devices": dict(sorted(kinds.items())),
        "wires": len(h.wires),
        "metres": round(_metres(h), 3),
        "digest": h.digest,
    }
    return Answer(document, f"{given.bike}: good\n{_words(h, kinds)}\n")


def _metres(h: Harness) -> float:
    return sum(wire.length_m or 0.0 for wire in h.wires.values())


def _words(h: Harness, kinds: Counter[str]) -> str:
    devices = ", ".join(f"{count} {kind}" for kind, count in sorted(kinds.items()))
    return table(
        [
            ("title", h.title),
            ("system", f"{h.volts:g} V, {h.earth} earth"),
            ("places", str(len(h.places))),
            ("devices", f"{len(h.devices)}: {devices}"),
            ("wires", f"{len(h.wires)}, {_metres(h):.1f} m in all"),
        ]
    )


CHECK = Command(
    name="check",
    about="tell whether a harness file is good, and all that is wrong with it",
    arguments=_arguments,
    run=_run,
)
