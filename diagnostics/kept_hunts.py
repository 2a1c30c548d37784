"""Hunts kept in memory, so that a tap goes on from the one before.

A cache and nothing more: what it lacks is thought through again from the findings, and
what is concluded is the same either way. Each hunt is in one hand at a time.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import lru_cache
from threading import Lock
from typing import Any

import harness
from diagnostics.experience import Experience

MOST_KEPT = 4

EngineFinding = Mapping[str, Any]


@dataclass(slots=True, eq=False)
class Hunt:
    """The engine's case of one hunt.

    Attributes
    ----------
    h : Harness
    known : Experience
        What the shop has learned from its confirmed repairs.
    findings : tuple of str
        Those that it was told or, while somebody tells them, is to be told.
    """

    h: harness.Harness
    known: Experience
    findings: tuple[str, ...]
    lock: Lock = field(default_factory=Lock)
    told: int = 0
    _case: harness.Case | None = None

    @property
    def case(self) -> harness.Case:
        """The engine's case, opened when it is first wanted."""
        if self._case is None:
            self._case = harness.Case(self.h, priors=_priors(self.h, self.known))
        return self._case

    def tell(self, finding: EngineFinding) -> None:
        """Take a finding in.

        Raises
        ------
        HarnessError
            Where nobody can have taken it.
        """
        self.case.add(finding)
        self.told += 1
        if self.told > len(self.findings):
            self.findings = (*self.findings, _text(finding))


def try_out(
    h: harness.Harness, known: Experience, findings: Sequence[EngineFinding]
) -> None:
    """Think findings through and keep nothing but the circuits solved for it."""
    hunt = Hunt(h, known, ())
    for finding in findings:
        hunt.tell(finding)
    hunt.case.advise(limit=1)
    hunt.case.segments()


class KeptHunts:
    """The hunts last thought about, the latest last."""

    def __init__(self, most: int = MOST_KEPT) -> None:
        self.most = most
        self._kept: list[Hunt] = []
        self._guard = Lock()

    @contextmanager
    def in_hand(
        self, h: harness.Harness, known: Experience, findings: Sequence[EngineFinding]
    ) -> Iterator[Hunt]:
        """Give the hunt that was told just these findings; others wait for it.

        What goes wrong while it is in hand makes it forgotten.
        """
        hunt = self._taken(h, known, tuple(map(_text, findings)))
        try:
            for finding in findings[hunt.told :]:
                hunt.tell(finding)
            yield hunt
        except BaseException:
            self._forget(hunt)
            raise
        finally:
            hunt.lock.release()

    def has(self, h: harness.Harness, findings: Sequence[EngineFinding]) -> bool:
        """Return whether a hunt is kept that was told just these findings."""
        told = tuple(map(_text, findings))
        with self._guard:
            return any(hunt.h is h and hunt.findings == told for hunt in self._kept)

    def _taken(
        self, h: harness.Harness, known: Experience, findings: tuple[str, ...]
    ) -> Hunt:
        """Return the hunt with its lock held; a new one where none is kept."""
        while True:
            with self._guard:
                hunt = self._find(h, known, findings) or Hunt(h, known, findings)
                others = [other for other in self._kept if other is not hunt]
                self._kept = [*others, hunt][-self.most :]
            hunt.lock.acquire()
            if hunt.findings == findings:
                return hunt
            # Whoever held it meanwhile went on with it; look again.
            hunt.lock.release()

    def _find(
        self, h: harness.Harness, known: Experience, findings: tuple[str, ...]
    ) -> Hunt | None:
        for hunt in self._kept:
            if hunt.h is h and hunt.findings == findings and hunt.known == known:
                return hunt
        return None

    def _forget(self, hunt: Hunt) -> None:
        with self._guard:
            self._kept = [other for other in self._kept if other is not hunt]


@lru_cache(maxsize=16)
def _priors(h: harness.Harness, known: Experience) -> harness.priors.Priors:
    return harness.priors.Priors.of(h, learned=known.learned)


def _text(finding: EngineFinding) -> str:
    return json.dumps(finding, sort_keys=True)
