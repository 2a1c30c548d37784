"""``rehearse``: every fault of a bike played against the advice, before it happens."""

import os
from argparse import ArgumentParser, ArgumentTypeError, Namespace
from collections.abc import Mapping, Sequence
from time import monotonic
from typing import Any

from harness.commands.command import Answer, Command, table
from harness.commands.progress import Bar
from harness.files import load
from harness.rehearsal import blind_lines, rehearse

MOST_PROCESSES = 256


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("bike", metavar="BIKE.toml", help="a harness file")
    parser.add_argument(
        "--pairs",
        action="store_true",
        help="two faults at a time, drawn by how likely they are, not single ones",
    )
    parser.add_argument(
        "--noise",
        type=_share,
        default=0.0,
        metavar="SHARE",
        help="how many of the readings are plain wrong, such as 0.05 for one in twenty",
    )
    parser.add_argument(
        "--processes",
        type=_processes,
        default=os.cpu_count() or 1,
        metavar="N",
        help="how many hunts at a time; as many as there are cores unless given",
    )


def _share(text: str) -> float:
    try:
        share = float(text)
    except ValueError as error:
        raise ArgumentTypeError(f'"{text}" is not a number') from error
    if not 0.0 <= share < 1.0:
        raise ArgumentTypeError(f"{text} is not between 0 and 1")
    return share


def _processes(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= MOST_PROCESSES:
        raise ArgumentTypeError(f'"{text}" is not a number from 1 to {MOST_PROCESSES}')
    return int(text)


def _run(given: Namespace) -> Answer:
    h = load(given.bike)
    what = "pairs of faults" if given.pairs else "faults"
    found = rehearse(
        h,
        pairs=given.pairs,
        noise=given.noise,
        processes=given.processes,
        progress=Bar(given.err, what, monotonic),
    )
    document: dict[str, object] = {
        "file": given.bike,
        "pairs": given.pairs,
        "noise": given.noise,
        **found,
    }
    return Answer(document, f"{h.title}\n{in_words(document)}\n")


def in_words(told: Mapping[str, Any]) -> str:
    """Return a rehearsal's figures as a person reads them."""
    what = "pairs of faults" if told["pairs"] else "single faults"
    wrong = f", {told['noise']:.0%} of the readings wrong" if told["noise"] else ""
    rows = [
        ("isolated", f"{told['isolated']:.1%}"),
        ("tests", _spread(told["tests"])),
        ("minutes", _spread(told["minutes"])),
        ("right answer first", f"{told['top']:.1%}"),
        ("among the first three", f"{told['top_three']:.1%}"),
        ("information wanted", f"{told['entropy_bits']:.1f} bits"),
        ("calibration error", f"{told['calibration_error']:.3f}"),
    ]
    rows += [
        (said, f"{told[key]:.1f} tests on average")
        for key, said in (
            ("walking_tests", "walking from the battery"),
            ("halving_tests", "halving the path"),
        )
        if key in told
    ]
    lines = [f"{told['hunts']} {what} played{wrong}", table(rows)]
    lines += _missed(told["not_isolated"])
    lines += blind_lines(told["blind"]) if "blind" in told else []
    return "\n".join(lines)


def _spread(values: Mapping[str, float]) -> str:
    return f"{values['mean']:.1f} on average, {values['most']:g} at most"


def _missed(hunts: Sequence[Sequence[Sequence[str]]]) -> list[str]:
    """Return the faults that the advice did not find, one line each."""
    if not hunts:
        return []
    named = sorted(" and ".join(f"{s} {mode}" for s, mode in pair) for pair in hunts)
    return ["Not isolated:", *(f"  {name}" for name in named)]


REHEARSE = Command(
    name="rehearse",
    about="play every fault of a bike against the advice; a bar shows how far it is",
    arguments=_arguments,
    run=_run,
)
