"""What the offered tests cannot tell: faults unseen, and segments that look alike.

A fault is unseen when every test that is offered reads as on a healthy bike. Two are
alike when every one reads the same with either. Readings count as the same where the
advice would not tell them apart either.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from harness.advice import rigs_considered
from harness.circuit import FloatArray, IntArray
from harness.findings import Test
from harness.information import clusters
from harness.model import Harness
from harness.moves import move_blocks
from harness.offered import Block, Offered
from harness.predictions import predictions_for
from harness.rehearsal.differences import places
from harness.rehearsal.report import Reports
from harness.segments import Fault
from harness.sets import FaultSet, Sets
from harness.weighing import sets_for

# Pairs of faults compared at a time.
AT_A_TIME = 4000


@dataclass(frozen=True)
class BlindSpots:
    """What no offered test tells.

    Attributes
    ----------
    unseen : tuple of Fault
        Those with which everything reads as on a healthy bike.
    alike : tuple of tuple of Fault
        Classes of faults, of two segments at least, that all read alike.
    """

    unseen: tuple[Fault, ...]
    alike: tuple[tuple[Fault, ...], ...]


def blind_spots(h: Harness) -> BlindSpots:
    """Find what no offered test tells. Intermittent contacts are left out."""
    sets = sets_for(h)
    faults = _steady(h, sets)
    wanted: list[FaultSet] = [(), *((fault,) for fault in faults)]
    signature = np.zeros(len(wanted), dtype=np.intp)
    for _, at in _all_readings(h, sets, wanted):
        signature = _refined(signature, clusters(at, 1.0))
    pairs = _same(signature)
    some = np.unique(pairs)
    number = np.full(len(wanted), -1, dtype=np.intp)
    number[some] = np.arange(len(some))
    pairs = number[pairs]
    for _, at in _all_readings(h, sets, [wanted[i] for i in some.tolist()]):
        pairs = _still_alike(pairs, at)
    pairs = some[pairs]
    unseen = pairs[pairs[:, 0] == 0, 1]
    known = pairs[~np.isin(pairs, [0, *unseen.tolist()]).any(axis=1)]
    return BlindSpots(
        tuple(faults[i - 1] for i in unseen.tolist()),
        tuple(_classes(faults, known - 1)),
    )


def _steady(h: Harness, sets: Sets) -> list[Fault]:
    """Return the faults that are there at rest and leave the bike steady."""
    known = predictions_for(h).faults
    at_rest = [fault for fault in known if fault is not None and not fault.moved]
    steady = Reports.of(sets, [(fault,) for fault in at_rest]).steady
    return [fault for fault, rests in zip(at_rest, steady, strict=True) if rests]


def _all_readings(
    h: Harness, sets: Sets, wanted: Sequence[FaultSet]
) -> Iterator[tuple[Test, FloatArray]]:
    """Yield the readings of every offered block, as places; shape (n_sets, n_tests)."""
    short = next(((f,) for fs in wanted for f in fs if f.is_short), None)
    moves = move_blocks(h, [short], np.ones(1)) if short else ()
    for rig in rigs_considered(h):
        # Of its own, so that what is read here is not kept.
        for block in Offered(h).blocks(rig):
            yield block.tests[0], _places(h, sets, block, wanted)
    for block in moves:
        yield block.tests[0], _places(h, sets, block, wanted)


def _places(
    h: Harness, sets: Sets, block: Block, wanted: Sequence[FaultSet]
) -> FloatArray:
    own = Block(block.tool, block.rig, block.pairs, block.devices)
    at = places(h, own.tests[0], own.read(sets, wanted))
    # What comes to no rest reads anything: as the healthy bike, so that it parts none.
    return np.where(np.isnan(at), at[:1], at)


def _refined(signature: NDArray[np.intp], labels: NDArray[np.intp]) -> IntArray:
    """Return numbers that are equal where the signature and all labels are."""
    dividing = labels[:, labels.max(axis=0) > 0]
    both = np.column_stack([signature, dividing])
    _, out = np.unique(both, axis=0, return_inverse=True)
    return np.asarray(out, dtype=np.intp).reshape(-1)


def _same(signature: NDArray[np.intp]) -> IntArray:
    """Return the pairs of rows that have one signature, the lower one first."""
    order = np.argsort(signature, kind="stable")
    starts = np.flatnonzero(np.diff(signature[order])) + 1
    found = [np.zeros((0, 2), dtype=np.intp)]
    for some in np.split(order, starts):
        one, other = np.triu_indices(len(some), 1)
        found.append(np.stack([some[one], some[other]], axis=1))
    return np.sort(np.concatenate(found), axis=1)


def _still_alike(pairs: IntArray, at: FloatArray) -> IntArray:
    """Return the pairs of rows whose places are nowhere more than one apart."""
    kept = []
    for start in range(0, len(pairs), AT_A_TIME):
        some = pairs[start : start + AT_A_TIME]
        apart = np.abs(at[some[:, 0]] - at[some[:, 1]]).max(axis=1) > 1.0
        kept.append(some[~apart])
    return np.concatenate(kept) if kept else pairs


def _classes(faults: Sequence[Fault], pairs: IntArray) -> Iterator[tuple[Fault, ...]]:
    """Yield classes in which each fault is alike to each other, largest first."""
    near: dict[int, set[int]] = {}
    for one, other in pairs.tolist():
        near.setdefault(one, set()).add(other)
        near.setdefault(other, set()).add(one)
    waiting = sorted(near, key=lambda i: (-len(near[i]), i))
    taken: set[int] = set()
    for first in waiting:
        if first in taken:
            continue
        found = [first]
        for other in sorted(near[first] - taken):
            if all(other in near[member] for member in found):
                found.append(other)
        taken.update(found)
        members = tuple(faults[i] for i in sorted(found))
        if len({fault.segments for fault in members}) > 1:
            yield members
