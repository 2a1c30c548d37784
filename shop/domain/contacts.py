"""Further people to reach for a customer, and how they like to be reached."""

from dataclasses import dataclass, replace
from enum import StrEnum

from shop.domain.customers import check_email
from shop.domain.entries import TextRule, clean_member, tidied
from shop.domain.refusals import Refusal


class Way(StrEnum):
    """How somebody likes to be reached."""

    PHONE = "phone"
    TEXT_MESSAGE = "text_message"
    EMAIL = "email"
    LETTER = "letter"


WAY_LABELS: dict[Way, str] = {
    Way.PHONE: "Call",
    Way.TEXT_MESSAGE: "Text message",
    Way.EMAIL: "E-mail",
    Way.LETTER: "Letter",
}

_RULES = (
    TextRule("name", "The name", 120, required=True),
    TextRule("relation", "Who this is", 80),
    TextRule("phone", "The phone number", 40),
    TextRule("email", "The mail address", 254),
    TextRule("notes", "The note", 1000),
)
_NEEDS = {Way.PHONE: "phone", Way.TEXT_MESSAGE: "phone", Way.EMAIL: "email"}
_NAMES = {"phone": "a phone number", "email": "a mail address"}


@dataclass(frozen=True, slots=True, kw_only=True)
class ContactDetails:
    """What can be entered about one way to reach a customer."""

    name: str
    relation: str = ""
    phone: str = ""
    email: str = ""
    preferred: str = Way.PHONE
    notes: str = ""

    def checked(self) -> "ContactDetails":
        """Return the details tidied.

        Raises
        ------
        Refusal
            One is missing or too long, or the preferred way has no number or address.

        Examples
        --------
        >>> ContactDetails(name=" Jo Fenn ", phone="0555 01").checked().name
        'Jo Fenn'
        """
        tidy = tidied(self, _RULES)
        if tidy.email:
            check_email(tidy.email)
        way = clean_member(
            Way, tidy.preferred, field="preferred", name="The preferred way"
        )
        needed = _NEEDS.get(way)
        if needed is not None and not getattr(tidy, needed):
            raise Refusal(
                "preferred-way-missing",
                f"Write {_NAMES[needed]}, or prefer another way.",
                needed,
            )
        return replace(tidy, preferred=way.value)
