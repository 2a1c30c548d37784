"""Whose a bike is, from when to when."""

from dataclasses import dataclass, replace
from datetime import date

from shop.domain.entries import TextRule
from shop.domain.refusals import Refusal

_NOTE = TextRule("note", "The note", 400)


@dataclass(frozen=True, slots=True, kw_only=True)
class Handing:
    """A bike changes hands: on which day, and what is known of it.

    `on` is None for today where the shop is.
    """

    on: date | None = None
    note: str = ""

    def checked(self, *, today: date, since: date | None) -> "Handing":
        """Return it tidied, with its day.

        Raises
        ------
        Refusal
            ``handing-in-future`` or ``handing-before-owner``.

        Examples
        --------
        >>> Handing(note=" sold ").checked(today=date(1974, 5, 1), since=None).note
        'sold'
        """
        on = self.on or today
        if on > today:
            raise Refusal(
                "handing-in-future",
                "A bike cannot be passed on before the day; write it down then.",
                "on",
            )
        if since is not None and on < since:
            raise Refusal(
                "handing-before-owner",
                f"The present owner has it since {since.isoformat()}; "
                "it cannot have gone to the next one earlier.",
                "on",
            )
        return replace(self, on=on, note=_NOTE.clean(self.note))
