"""Whether somebody must show a second thing when signing in: a code or a passkey.

Nobody is ever locked out by the rule: whoever has no second step on the day signs in
with the password as before and is led to set one up before anything else.
"""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from shop.domain.roles import HANDLES_MONEY, Role


class Demand(StrEnum):
    """How the rule stands for somebody on a day."""

    NONE = "none"
    SOON = "soon"
    NOW = "now"


@dataclass(frozen=True, slots=True)
class SecondStepRule:
    """The day from which those who handle money need a second step; None is never."""

    demanded_from: date | None

    def demand_of(self, role: Role, *, on: date) -> Demand:
        """Say whether the role needs a second step on the day.

        Examples
        --------
        >>> rule = SecondStepRule(date(2026, 3, 2))
        >>> rule.demand_of(Role.OWNER, on=date(2026, 3, 1)).value
        'soon'
        >>> rule.demand_of(Role.TECHNICIAN, on=date(2026, 3, 2)).value
        'none'
        """
        if self.demanded_from is None or role not in HANDLES_MONEY:
            return Demand.NONE
        return Demand.NOW if self.demanded_from <= on else Demand.SOON
