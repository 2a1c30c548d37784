"""The code from the phone, asked for in our own words and not to be guessed."""

from typing import Any

from allauth.mfa.base.forms import AuthenticateForm, ReauthenticateForm
from django.forms import ValidationError

from shop.web.attempts import too_many

TRIES = 10
WINDOW_S = 15 * 60


class _Counted:
    """Counts the tries for one person, from wherever they come."""

    user: Any

    def clean_code(self) -> Any:
        """Refuse to look at any code, right or wrong, after too many."""
        who = str(self.user.pk)
        if too_many(what="code", who=who, limit=TRIES, window_s=WINDOW_S):
            raise ValidationError(
                "Too many tries. Wait a quarter of an hour, or use a passkey.",
                code="too-many-tries",
            )
        return super().clean_code()  # type: ignore[misc]  # the form beside it has one


class CodeForm(_Counted, AuthenticateForm):  # type: ignore[misc]  # untyped base
    """Asks for the code when signing in."""


class CodeAgainForm(_Counted, ReauthenticateForm):  # type: ignore[misc]  # untyped base
    """Asks for the code before something that guards the account is changed."""
