"""Advisories: what was noticed in passing, and what became of it."""

from dataclasses import dataclass, replace
from enum import StrEnum

from shop.domain.entries import TextRule, clean_member, tidied


class Urgency(StrEnum):
    """How soon something must be seen to."""

    UNSAFE = "unsafe"
    SOON = "soon"
    WATCH = "watch"


URGENCY_LABELS: dict[Urgency, str] = {
    Urgency.UNSAFE: "Not safe to ride",
    Urgency.SOON: "Before long",
    Urgency.WATCH: "Keep an eye on it",
}


class Outcome(StrEnum):
    """What became of an advisory."""

    OPEN = "open"
    TASK = "task"
    DECLINED = "declined"


OUTCOME_LABELS: dict[Outcome, str] = {
    Outcome.OPEN: "Open",
    Outcome.TASK: "Became a task",
    Outcome.DECLINED: "Declined",
}

TOLD_HOW = TextRule("how", "How it was told", 120, required=True)
DECLINED_WHY = TextRule("reason", "The reason", 200, required=True)
_RULES = (
    TextRule("what", "What was noticed", 400, required=True),
    TextRule("place", "Where on the bike", 120, required=True),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class AdvisoryDetails:
    """What is entered about something noticed in passing."""

    what: str
    place: str
    urgency: str

    def checked(self) -> "AdvisoryDetails":
        """Return the details tidied, or refuse them."""
        urgency = clean_member(
            Urgency, self.urgency, field="urgency", name="The urgency"
        )
        return replace(tidied(self, _RULES), urgency=urgency.value)
