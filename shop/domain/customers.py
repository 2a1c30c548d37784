"""What the shop keeps about a customer."""

from dataclasses import dataclass

from shop.domain.entries import TextRule, tidied
from shop.domain.refusals import Refusal

LONGEST_NOTE = 5000

_RULES = (
    TextRule("name", "The name", 120, required=True),
    TextRule("address", "The address", 500),
    TextRule("phone", "The phone number", 40),
    TextRule("email", "The mail address", 254),
    TextRule("tax_number", "The tax number", 40),
    TextRule("notes", "The note", LONGEST_NOTE),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerDetails:
    """What can be entered about a customer."""

    name: str
    address: str = ""
    phone: str = ""
    email: str = ""
    tax_number: str = ""
    notes: str = ""

    def checked(self) -> "CustomerDetails":
        """Return the details tidied.

        Raises
        ------
        Refusal
            Where one is missing, too long or no mail address.

        Examples
        --------
        >>> CustomerDetails(name=" Ada Fenn ").checked().name
        'Ada Fenn'
        """
        tidy = tidied(self, _RULES)
        if tidy.email:
            check_email(tidy.email)
        return tidy


def check_email(email: str) -> None:
    """Refuse what cannot be a mail address.

    Only the shape is looked at; whether mail arrives, only mail can tell.

    Raises
    ------
    Refusal
        ``email-malformed``.
    """
    box, _, host = email.rpartition("@")
    if not box or "." not in host.strip(".") or any(c.isspace() for c in email):
        raise Refusal(
            "email-malformed",
            f"“{email}” is not a mail address; it should look like name@example.org.",
            "email",
        )
