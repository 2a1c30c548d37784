"""Blind spots as plain data and in words."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import numpy as np

from harness.model import Harness
from harness.predictions import predictions_for
from harness.priors import log_priors
from harness.rehearsal.blind_spots import blind_spots
from harness.rehearsal.probes import Probe, probe_for
from harness.segments import Fault
from harness.weighing import sets_for
from harness.words import as_json_test, fault_words

SPOKEN_AT_MOST = 20
NAMED_AT_MOST = 4


def blind_data(h: Harness) -> dict[str, list[dict[str, Any]]]:
    """Return what no offered test tells, with what would.

    Returns
    -------
    dict
        ``unseen``: for each way of a segment to be bad without a trace ``segment``,
        ``mode``, ``ohms`` (of a bad contact), ``words``, ``probe`` (what would show it)
        and its ``test`` as plain data, or None. ``alike``: ``segments``, ``faults``,
        ``words``, ``probe`` and ``test`` in the same way. The likeliest first.
    """
    found = blind_spots(h)
    known = predictions_for(h).faults
    chance = dict(zip(known, np.exp(log_priors(h)).tolist(), strict=True))
    unseen = [_unseen(h, some, chance) for some in _by_way(found.unseen)]
    alike = [_alike(h, some, chance) for some in _by_segments(found.alike)]
    return {"unseen": _ordered(unseen), "alike": _ordered(alike)}


def _by_way(faults: Sequence[Fault]) -> Iterator[tuple[Fault, ...]]:
    """Yield faults that differ only in the size of a bad contact together."""
    ways: dict[tuple[str, str, str], list[Fault]] = {}
    for fault in faults:
        ways.setdefault((fault.segment, fault.mode, fault.other), []).append(fault)
    yield from (tuple(some) for some in ways.values())


def _by_segments(
    classes: Sequence[tuple[Fault, ...]],
) -> Iterator[list[tuple[Fault, ...]]]:
    """Yield classes of the same segments together."""
    groups: dict[tuple[str, ...], list[tuple[Fault, ...]]] = {}
    for members in classes:
        groups.setdefault(_names(members), []).append(members)
    yield from groups.values()


def _names(faults: Sequence[Fault]) -> tuple[str, ...]:
    return tuple(sorted({s for fault in faults for s in fault.segments}))


Chance = Mapping[Fault | None, float]


def _unseen(h: Harness, some: tuple[Fault, ...], chance: Chance) -> dict[str, Any]:
    worst = some[-1]
    probe = probe_for(sets_for(h), [(), (worst,)], np.ones(2))
    return {
        "segment": worst.segment,
        "mode": worst.mode,
        "ohms": [fault.ohms for fault in some if fault.ohms],
        "words": fault_words(h, worst),
        **_told(probe),
        "chance": sum(chance[fault] for fault in some),
    }


def _alike(
    h: Harness, classes: list[tuple[Fault, ...]], chance: Chance
) -> dict[str, Any]:
    members = max(classes, key=lambda some: sum(chance[f] for f in some))
    weight = np.array([chance[fault] for fault in members])
    probe = probe_for(sets_for(h), [(fault,) for fault in members], weight)
    ways = {(f.segment, f.mode): None for some in classes for f in some}
    names = _names(members)
    return {
        "segments": list(names),
        "faults": [list(way) for way in ways],
        "words": _either(h, members),
        **_told(probe),
        "chance": sum(chance[fault] for some in classes for fault in some),
    }


def _either(h: Harness, faults: Sequence[Fault]) -> str:
    words = [fault_words(h, fault) for fault in faults]
    if len(words) > NAMED_AT_MOST:
        return " or ".join(
            (*words[:NAMED_AT_MOST], f"{len(words) - NAMED_AT_MOST} more")
        )
    return " or ".join(words)


def _told(probe: Probe) -> dict[str, Any]:
    test = None if probe.test is None else dict(as_json_test(probe.test))
    return {"probe": probe.words, "test": test}


def _ordered(rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return sorted(rows, key=lambda row: -float(row["chance"]))


def blind_lines(blind: Mapping[str, Sequence[Mapping[str, Any]]]) -> list[str]:
    """Return blind spots as lines that a person reads, the likeliest ones."""
    lines = []
    for key, head in (
        ("unseen", "No offered test shows:"),
        ("alike", "No offered test tells apart:"),
    ):
        rows = blind[key]
        if rows:
            lines.append(head)
        for row in rows[:SPOKEN_AT_MOST]:
            lines += [f"  {row['words']}", f"    try: {row['probe']}"]
        if len(rows) > SPOKEN_AT_MOST:
            lines.append(f"  and {len(rows) - SPOKEN_AT_MOST} more")
    return lines
