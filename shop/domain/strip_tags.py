"""Strip tags: what was taken off a bike, where it is, and what becomes of it."""

from dataclasses import dataclass, replace
from enum import StrEnum

from shop.domain.check_digits import check_digit, is_right
from shop.domain.entries import TextRule, clean_member, tidied
from shop.domain.refusals import IllegalMove, Refusal

MOST_PIECES = 999
FIRST_NUMBER = 1001
LONGEST_CODE = 12


class TagState(StrEnum):
    """Where what the tag names is now."""

    ON_SHELF = "on_shelf"
    OUT = "out"
    ON_BIKE = "on_bike"
    WITH_OWNER = "with_owner"
    SCRAPPED = "scrapped"


TAG_STATE_LABELS: dict[TagState, str] = {
    TagState.ON_SHELF: "On the shelf",
    TagState.OUT: "Out at a supplier",
    TagState.ON_BIKE: "Back on the bike",
    TagState.WITH_OWNER: "With the owner",
    TagState.SCRAPPED: "Scrapped",
}

SETTLED = frozenset({TagState.ON_BIKE, TagState.WITH_OWNER, TagState.SCRAPPED})
UNSETTLED = frozenset(TagState) - SETTLED


class TagFate(StrEnum):
    """What becomes of it."""

    REFIT = "refit"
    RECONDITION = "recondition"
    REPLACE = "replace"
    RETURN = "return"
    SCRAP = "scrap"


TAG_FATE_LABELS: dict[TagFate, str] = {
    TagFate.REFIT: "Refit",
    TagFate.RECONDITION: "Recondition",
    TagFate.REPLACE: "Replace",
    TagFate.RETURN: "Return to the owner",
    TagFate.SCRAP: "Scrap",
}

GOES_BACK_ON = frozenset({TagFate.REFIT, TagFate.RECONDITION})
OWNERS_TO_HAVE = frozenset({TagFate.RETURN, TagFate.REPLACE})
"""What the owner gets back: a part that a new one replaces is still theirs."""


class TagCondition(StrEnum):
    """In what state it came off."""

    UNSEEN = "unseen"
    GOOD = "good"
    WORN = "worn"
    CORRODED = "corroded"
    DAMAGED = "damaged"
    INCOMPLETE = "incomplete"


TAG_CONDITION_LABELS: dict[TagCondition, str] = {
    TagCondition.UNSEEN: "Not looked at yet",
    TagCondition.GOOD: "Good",
    TagCondition.WORN: "Worn",
    TagCondition.CORRODED: "Corroded",
    TagCondition.DAMAGED: "Damaged",
    TagCondition.INCOMPLETE: "Pieces missing",
}


class TagEvent(StrEnum):
    """What can happen to it."""

    FIT = "fit"
    TAKE_OFF_AGAIN = "take_off_again"
    GIVE_BACK = "give_back"
    BRING_BACK_IN = "bring_back_in"
    SCRAP = "scrap"
    SEND_OUT = "send_out"
    COME_BACK = "come_back"
    WRITE_OFF = "write_off"


TAG_EVENT_LABELS: dict[TagEvent, str] = {
    TagEvent.FIT: "Fit to the bike",
    TagEvent.TAKE_OFF_AGAIN: "Take off again",
    TagEvent.GIVE_BACK: "Give to the owner",
    TagEvent.BRING_BACK_IN: "Owner brings it back",
    TagEvent.SCRAP: "Scrap it",
    TagEvent.SEND_OUT: "Send to a supplier",
    TagEvent.COME_BACK: "Back from the supplier",
    TagEvent.WRITE_OFF: "Write off: lost or spoiled",
}

TAG_EVENT_DONE: dict[TagEvent, str] = {
    TagEvent.FIT: "fitted to the bike",
    TagEvent.TAKE_OFF_AGAIN: "taken off again",
    TagEvent.GIVE_BACK: "given to the owner",
    TagEvent.BRING_BACK_IN: "brought back by the owner",
    TagEvent.SCRAP: "scrapped",
    TagEvent.SEND_OUT: "sent to a supplier",
    TagEvent.COME_BACK: "back from the supplier",
    TagEvent.WRITE_OFF: "written off",
}

TAG_MOVES: dict[tuple[TagState, TagEvent], TagState] = {
    (TagState.ON_SHELF, TagEvent.FIT): TagState.ON_BIKE,
    (TagState.ON_SHELF, TagEvent.GIVE_BACK): TagState.WITH_OWNER,
    (TagState.ON_SHELF, TagEvent.SCRAP): TagState.SCRAPPED,
    (TagState.ON_SHELF, TagEvent.SEND_OUT): TagState.OUT,
    (TagState.OUT, TagEvent.COME_BACK): TagState.ON_SHELF,
    (TagState.OUT, TagEvent.WRITE_OFF): TagState.SCRAPPED,
    (TagState.ON_BIKE, TagEvent.TAKE_OFF_AGAIN): TagState.ON_SHELF,
    (TagState.WITH_OWNER, TagEvent.BRING_BACK_IN): TagState.ON_SHELF,
}

TAG_NEEDS_REASON = frozenset({TagEvent.TAKE_OFF_AGAIN, TagEvent.WRITE_OFF})
WITH_OUTSIDE_WORK = frozenset(
    {TagEvent.SEND_OUT, TagEvent.COME_BACK, TagEvent.WRITE_OFF}
)
"""Moves that are made through the outside work that the part goes out for."""

_RULES = (
    TextRule("name", "What it is", 120, required=True),
    TextRule("place", "Where it sits on the bike", 120),
    TextRule("condition_note", "The note on its condition", 500),
    TextRule("shelf", "The shelf", 40),
)
_CONSENT_RULES = (
    TextRule("by_name", "The name of who agreed", 120),
    TextRule("how", "How it was agreed", 120),
)
REASON = TextRule("reason", "The reason", 200)


@dataclass(frozen=True, slots=True, kw_only=True)
class Consent:
    """That somebody on the customer's side agreed to part with something for good."""

    by_name: str = ""
    how: str = ""

    def checked(self) -> "Consent":
        """Return the consent tidied, or refuse it."""
        return tidied(self, _CONSENT_RULES)


NO_CONSENT = Consent()


@dataclass(frozen=True, slots=True, kw_only=True)
class TagDetails:
    """What can be entered about a part or bag taken off.

    Parameters
    ----------
    place : str
        Where it sits on the bike, in the words of who took it off.
    pieces : int
        How many are in the bag.
    """

    name: str
    place: str = ""
    pieces: int = 1
    condition: str = TagCondition.UNSEEN
    condition_note: str = ""
    shelf: str = ""

    def checked(self) -> "TagDetails":
        """Return the details tidied.

        Raises
        ------
        Refusal
            Where one is missing, too long, unknown, or the count is none.

        Examples
        --------
        >>> TagDetails(name=" Chain guard ", pieces=1).checked().name
        'Chain guard'
        """
        if not 1 <= self.pieces <= MOST_PIECES:
            raise Refusal(
                "pieces-out-of-range",
                f"A bag holds 1 to {MOST_PIECES} pieces.",
                "pieces",
            )
        return replace(
            tidied(self, _RULES),
            condition=clean_member(
                TagCondition, self.condition, field="condition", name="The condition"
            ).value,
        )


def tag_label(number: int) -> str:
    """Return the number as people say and print it, check digit last.

    Examples
    --------
    >>> tag_label(572)
    'T-572-4'
    """
    return f"T-{number}-{check_digit(number)}"


def tag_code(number: int) -> str:
    """Return the digits that a label's address ends in.

    Examples
    --------
    >>> tag_code(572)
    '5724'
    """
    return f"{number}{check_digit(number)}"


def number_of(code: str) -> int:
    """Return the number that somebody scanned or typed, check digit included.

    Raises
    ------
    Refusal
        ``tag-number-unreadable`` where there are no digits, ``tag-number-miscopied``
        where the check digit does not fit.

    Examples
    --------
    >>> number_of("t-572-4")
    572
    """
    typed = code.strip().upper().removeprefix("T")
    digits = typed.replace("-", "").replace(" ", "")
    if not (digits.isascii() and digits.isdecimal()) or not (
        1 < len(digits) <= LONGEST_CODE
    ):
        raise Refusal(
            "tag-number-unreadable",
            "A tag's number looks like T-1001-2: digits, and a check digit behind.",
            "code",
        )
    if not is_right(digits):
        raise Refusal(
            "tag-number-miscopied",
            f"There is no tag {code.strip()}: its last digit does not fit the others. "
            "Look at the label again; a digit is wrong or two are swapped.",
            "code",
        )
    return int(digits[:-1])


def next_tag_state(
    state: TagState, event: TagEvent, *, fate: TagFate, consent: Consent, reason: str
) -> TagState:
    """Return where the event leads.

    Raises
    ------
    IllegalMove
        Where the table has no such move, a reason or consent is missing, or the
        fate says otherwise.

    Examples
    --------
    >>> next_tag_state(
    ...     TagState.ON_SHELF, TagEvent.FIT, fate=TagFate.REFIT,
    ...     consent=NO_CONSENT, reason="",
    ... ).value
    'on_bike'
    """
    target = TAG_MOVES.get((state, event))
    if target is None:
        raise IllegalMove(
            "illegal-move",
            f"“{TAG_EVENT_LABELS[event]}” is not possible while it is "
            f"{TAG_STATE_LABELS[state].lower()}.",
        )
    if event in TAG_NEEDS_REASON and not reason.strip():
        raise IllegalMove("reason-missing", "Say why, in a few words.", "reason")
    if event is TagEvent.FIT and fate not in GOES_BACK_ON:
        raise IllegalMove(
            "fate-says-otherwise",
            f"Its fate is “{TAG_FATE_LABELS[fate].lower()}”, so it does not go back "
            "on the bike. Change its fate first.",
        )
    if event is TagEvent.SCRAP and fate is not TagFate.SCRAP:
        raise IllegalMove(
            "fate-says-otherwise",
            f"Its fate is “{TAG_FATE_LABELS[fate].lower()}”. Decide to scrap it first, "
            "with the name of who agreed.",
        )
    if target is TagState.SCRAPPED:
        check_consent(consent)
    return target


def check_consent(consent: Consent) -> None:
    """Refuse to part with something of the customer's that nobody gave away.

    Raises
    ------
    IllegalMove
        ``consent-missing``.
    """
    if not consent.by_name.strip():
        raise IllegalMove(
            "consent-missing",
            "It is the customer's. Enter the name of who agreed that it goes.",
            "consent_by_name",
        )


def tag_moves_from(state: TagState) -> tuple[TagEvent, ...]:
    """Return the events that the table knows from here.

    Examples
    --------
    >>> [event.value for event in tag_moves_from(TagState.OUT)]
    ['come_back', 'write_off']
    """
    return tuple(event for (old, event) in TAG_MOVES if old is state)
