"""What the shop keeps about somebody who works in it."""

import re
from dataclasses import dataclass, replace
from decimal import Decimal

from shop.domain.customers import check_email
from shop.domain.entries import TextRule, clean_member, clean_money, tidied
from shop.domain.refusals import Refusal
from shop.domain.roles import Role

_USERNAME = re.compile(r"[\w.@+-]+")
_RULES = (
    TextRule("username", "The sign-in name", 150, required=True),
    TextRule("first_name", "The first name", 150),
    TextRule("last_name", "The last name", 150),
    TextRule("email", "The mail address", 254),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonDetails:
    """What can be entered about somebody of the shop.

    Parameters
    ----------
    hourly_rate : Decimal or None
        What an hour of this person costs the customer; None means the shop's rate.
    """

    username: str
    first_name: str = ""
    last_name: str = ""
    email: str = ""
    role: str = Role.TECHNICIAN
    hourly_rate: Decimal | None = None

    def checked(self, *, minor_digits: int) -> "PersonDetails":
        """Return the details tidied, or refuse them."""
        tidy = tidied(self, _RULES)
        if not _USERNAME.fullmatch(tidy.username):
            raise Refusal(
                "username-malformed",
                "A sign-in name holds letters, digits and @ . + - _ only.",
                "username",
            )
        if tidy.email:
            check_email(tidy.email)
        rate = tidy.hourly_rate
        if rate is not None:
            rate = clean_money(
                rate,
                field="hourly_rate",
                name="The hourly rate",
                minor_digits=minor_digits,
            )
        role = clean_member(Role, tidy.role, field="role", name="The role")
        return replace(tidy, role=role.value, hourly_rate=rate)
