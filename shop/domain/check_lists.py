"""Final check lists: points that must be answered before a bike is ready."""

from collections.abc import Iterable
from enum import StrEnum

from shop.domain.entries import TextRule
from shop.domain.refusals import Refusal


class Answer(StrEnum):
    """What was found at a point of the final check."""

    OPEN = "open"
    RIGHT = "right"
    NOT_FITTED = "not_fitted"
    NOT_RIGHT = "not_right"


ANSWER_LABELS: dict[Answer, str] = {
    Answer.OPEN: "Not looked at",
    Answer.RIGHT: "In order",
    Answer.NOT_FITTED: "Not on this bike",
    Answer.NOT_RIGHT: "Not right",
}

PASSED = frozenset({Answer.RIGHT, Answer.NOT_FITTED})

POINT = TextRule("text", "The point", 300, required=True)
LIST_NAME = TextRule("name", "The name", 120, required=True)
CAUTION = TextRule("caution", "The caution", 2000)
NOTE = TextRule("note", "The note", 300)


def check_answer(answer: Answer, note: str) -> None:
    """Refuse a point that is not right without saying what is wrong.

    Examples
    --------
    >>> check_answer(Answer.RIGHT, "")
    """
    if answer is Answer.NOT_RIGHT and not note:
        raise Refusal("note-missing", "Say what is not right.", "note")


def why_incomplete(answers: Iterable[Answer]) -> str:
    """Return why these points keep a bike from being ready; empty where they do not.

    Examples
    --------
    >>> why_incomplete([Answer.RIGHT, Answer.OPEN, Answer.NOT_FITTED])
    'The final check list has 1 point of 3 that nobody has ticked yet.'
    >>> why_incomplete([Answer.RIGHT, Answer.NOT_FITTED])
    ''
    """
    found = list(answers)
    wrong = found.count(Answer.NOT_RIGHT)
    if wrong:
        points = "point that is" if wrong == 1 else "points that are"
        return (
            f"The final check list has {wrong} {points} not right; "
            "send the bike back to the bench."
        )
    unseen = found.count(Answer.OPEN)
    if unseen:
        points = "point" if unseen == 1 else "points"
        return (
            f"The final check list has {unseen} {points} of {len(found)} that "
            "nobody has ticked yet."
        )
    return ""
