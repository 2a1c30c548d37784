"""Refusals: why the shop will not do what was asked, in the user's words.

A refusal is a result, not a failure of the program. It carries a stable code
for machines, a message that says what is wrong and what mends it, and the
field it belongs to where there is one. The web shows it at the field, the API
answers it as a problem document.
"""

from typing_extensions import override


class Refusal(Exception):  # noqa: N818 - refusals are answers
    """Something asked of the shop that it will not do.

    Parameters
    ----------
    code : str
        Stable, lower case, words joined by hyphens: ``minutes-not-positive``.
    message : str
        What is wrong and what mends it, in the user's words.
    field : str or None
        The argument of the action it belongs to.
    """

    def __init__(self, code: str, message: str, field: str | None = None) -> None:
        super().__init__(message)
        self.code = code
        self.message = message
        self.field = field

    @override
    def __repr__(self) -> str:
        """Show code, message and field."""
        return f"{type(self).__name__}({self.code!r}, {self.message!r}, {self.field!r})"


class NotAllowed(Refusal):
    """The acting user's role does not include this act."""


class NotFound(Refusal):
    """The row that was named does not exist, or is not for this viewer."""


class IllegalMove(Refusal):
    """The life cycle has no such move, or a guard stands in its way."""


class ConcurrentChange(Refusal):
    """Somebody else changed the row between reading and writing."""
