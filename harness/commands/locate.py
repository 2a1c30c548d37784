"""``locate``: what is wrong with a bike, after the findings of a file."""

import re
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from harness.case import Case
from harness.commands.command import Answer, Command, table
from harness.errors import HarnessError, Problem
from harness.explain import reading
from harness.files import load
from harness.reading import Source, Spot, Table
from harness.texts import read_source

TOP_KEYS = ("schema", "title", "note", "findings")


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("bike", metavar="BIKE.toml", help="a harness file")
    parser.add_argument("findings", metavar="FINDINGS.toml", help="tests and readings")
    parser.add_argument(
        "--why",
        metavar="SEGMENT",
        help="tell why one segment has its verdict, step by step: wire:7",
    )


def _run(given: Namespace) -> Answer:
    case = Case(load(given.bike))
    take_findings(case, given.findings)
    if given.why:
        told = case.explain(given.why)
        return Answer(told, why_words(told))
    document: dict[str, object] = {
        "file": given.bike,
        "findings": [finding.id for finding in case.findings],
        "faults": case.faults(),
        "segments": case.segments(),
        "isolated": case.isolated(),
        "advice": case.advise(),
        "conflict": case.conflict(),
    }
    return Answer(document, _words(document))


def take_findings(case: Case, path: str) -> None:
    """Add every finding of a file to a case.

    Raises
    ------
    HarnessError
        With every problem of the file, by line.
    """
    problems: list[Problem] = []
    try:
        source = read_source(Path(path))
    except HarnessError as error:
        raise HarnessError(error.problems, name=path) from error
    top = Table(source.data, Spot(source), "", problems)
    top.only(TOP_KEYS, of="a findings file")
    entries = top.tables("findings")
    if "findings" not in source.data:
        top.missing("findings", "a table [[findings]] for each test")
    for index, entry in enumerate(entries or ()):
        try:
            case.add(entry.data)
        except HarnessError as error:
            problems.extend(_placed(error, source, entry.data, index))
    if problems:
        raise HarnessError(
            tuple(sorted(problems, key=lambda p: p.line or 0)), name=path
        )


def _placed(
    error: HarnessError, source: Source, entry: Mapping[str, object], index: int
) -> Iterator[Problem]:
    """Give each problem of a finding the line of the key that it speaks of."""
    for problem in error.problems:
        path = ("findings", index, _key_meant(problem, entry))
        yield replace(problem, line=source.line_of(path))


def _key_meant(problem: Problem, entry: Mapping[str, object]) -> str:
    """Return the key that a problem names, or whose value it quotes."""
    spoken = re.findall(r"[\w.+-]+", problem.what)
    named = [key for key in entry if key in problem.where.split(".")]
    quoted = [key for key, value in entry.items() if value in spoken]
    named_in_words = [key for key in entry if key in spoken]
    return next(iter(named + quoted + named_in_words), "")


def _words(document: Mapping[str, Any]) -> str:
    sections = [
        ("What it may be", _faults(document["faults"])),
        ("Verdicts", _verdicts(document["segments"])),
        ("What to test next", _advice(document["advice"], document["isolated"])),
    ]
    if document["conflict"]:
        sections.insert(0, ("Conflict", _conflict(document["conflict"])))
    return "\n\n".join(f"{title}\n{body}" for title, body in sections) + "\n"


def why_words(told: Mapping[str, Any]) -> str:
    """Return an explanation as lines, the verdict first."""
    verdict, *steps = (step["sentence"] for step in told["steps"])
    return "\n".join([verdict, *(f"  {sentence}" for sentence in steps)]) + "\n"


def _conflict(told: Mapping[str, Any]) -> str:
    """Return what to doubt, and the test that settles it."""
    lines = [f"  {told['words']}"]
    lines += [
        f"  {_percent(doubt['probability']):>7}  {doubt['words']}"
        for doubt in told["doubts"]
    ]
    if told["test"]:
        lines += [f"       caution: {words}" for words in told["test"]["cautions"]]
        lines += [
            f"       {reading(outcome['reads'])}: {outcome['means']}"
            for outcome in told["test"]["outcomes"]
        ]
    return "\n".join(lines)


def _faults(faults: list[dict[str, Any]]) -> str:
    rows = [(_percent(f["probability"]), f["words"]) for f in faults]
    return table(rows, right="r ")


def _percent(probability: float) -> str:
    return f"{100 * probability:.1f} %"


def _verdicts(segments: dict[str, dict[str, Any]]) -> str:
    """Return faulty and suspect segments in words, the others by name."""
    lines = []
    for verdict in ("faulty", "suspect"):
        found = {n: s for n, s in segments.items() if s["verdict"] == verdict}
        worst = sorted(found.items(), key=lambda item: -item[1]["probability"])
        lines += [f"  {verdict}: {segment['words']}" for _, segment in worst]
    for verdict in ("sound", "untested"):
        names = [n for n, s in segments.items() if s["verdict"] == verdict]
        lines.append(f"  {verdict}: {', '.join(sorted(names)) or 'none'}")
    return "\n".join(lines)


def _advice(advice: list[dict[str, Any]], isolated: Mapping[str, Any] | None) -> str:
    if isolated:
        named = ", ".join(isolated["segments"])
        return f"  nothing: it is {named} ({_percent(isolated['probability'])})"
    if not advice:
        return "  nothing more tells anything apart"
    lines = []
    for number, test in enumerate(advice, start=1):
        gain = f"{test['minutes']:.0f} min, {test['bits']:.2f} bit"
        lines.append(f"  {number}. {test['words']} ({gain})")
        lines += [f"       caution: {caution}" for caution in test["cautions"]]
        lines += [
            f"       {reading(outcome['reads'])}: {outcome['means']}"
            for outcome in test["outcomes"]
        ]
    return "\n".join(lines)


LOCATE = Command(
    name="locate",
    about="tell what the findings say: faults, verdicts, what to test next",
    arguments=_arguments,
    run=_run,
)
