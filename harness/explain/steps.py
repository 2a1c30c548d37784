"""One link in the chain from findings to a verdict."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Step:
    """A plain sentence, and the findings and segments that it speaks of."""

    sentence: str
    findings: tuple[str, ...] = ()
    segments: tuple[str, ...] = ()

    def as_data(self) -> dict[str, Any]:
        """Return it as plain data."""
        return {
            "sentence": self.sentence,
            "findings": list(self.findings),
            "segments": list(self.segments),
        }


def capital(text: str) -> str:
    """Return a sentence with its first letter large."""
    return text[:1].upper() + text[1:]


def listed(names: Sequence[str]) -> str:
    """Return names in a row: ``a, b and c``."""
    if len(names) < 2:  # noqa: PLR2004 - one is no list
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def percent(probability: float) -> str:
    """Return a probability as it is said: ``12 %``, ``under 1 %``, ``over 99 %``."""
    share = 100 * probability
    if share < 1.0:
        return "under 1 %"
    return "over 99 %" if share > 99.0 else f"{share:.0f} %"  # noqa: PLR2004 - never certain
