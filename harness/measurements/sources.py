"""Where a limit comes from, and how far it may be trusted."""

from dataclasses import dataclass
from enum import StrEnum


class Standing(StrEnum):
    """How a figure was come by."""

    PUBLISHED = "published"
    SECOND_HAND = "second-hand"
    FROM_MEMORY = "from memory"
    COMMON_PRACTICE = "common practice"
    WORKED_OUT = "worked out"
    OWN_JUDGEMENT = "own judgement"


class Confidence(StrEnum):
    """How sure one can be of a figure, whatever its standing."""

    HIGH = "high"
    MEDIUM = "medium"
    LOW = "low"


_SAID = {
    Standing.PUBLISHED: "published",
    Standing.SECOND_HAND: "second-hand: a copy or summary of the source was read, not "
    "the source",
    Standing.FROM_MEMORY: "from memory: the source was not seen",
    Standing.COMMON_PRACTICE: "common practice in the trade, no authority found",
    Standing.WORKED_OUT: "worked out by a stated formula",
    Standing.OWN_JUDGEMENT: "our own judgement, no source",
}


@dataclass(frozen=True, slots=True)
class Source:
    """What a limit rests on.

    Attributes
    ----------
    words : str
        The standard, book, table or habit.
    standing : Standing
        Only what was read in the source itself is called published.
    confidence : Confidence
    """

    words: str
    standing: Standing
    confidence: Confidence

    @property
    def is_published(self) -> bool:
        """Whether the source itself was read."""
        return self.standing is Standing.PUBLISHED

    @property
    def sentence(self) -> str:
        """The source in one line, with its standing.

        Examples
        --------
        >>> Source("A table", Standing.PUBLISHED, Confidence.HIGH).sentence
        'A table (published; confidence high)'
        """
        return f"{self.words} ({_SAID[self.standing]}; confidence {self.confidence})"


def practice(words: str, confidence: Confidence = Confidence.MEDIUM) -> Source:
    """Return a source that is a habit of the trade."""
    return Source(words, Standing.COMMON_PRACTICE, confidence)
