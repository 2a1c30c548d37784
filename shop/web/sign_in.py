"""Signing in: accounts are made by the owner, and guessing is locked out."""

from typing import Any

from allauth.account.adapter import DefaultAccountAdapter, get_adapter
from allauth.account.forms import LoginForm
from allauth.mfa.adapter import DefaultMFAAdapter
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest

_NO_ADDRESS = "::"


class ShopAccountAdapter(DefaultAccountAdapter):  # type: ignore[misc]  # untyped base
    """Closes registration; everything else is as the package has it."""

    def is_open_for_signup(self, request: HttpRequest) -> bool:  # noqa: ARG002 - theirs
        """Refuse: the owner makes the accounts."""
        return False


class ShopMFAAdapter(DefaultMFAAdapter):  # type: ignore[misc]  # untyped base
    """Says in our own words what goes wrong with a second step."""

    error_messages = {
        **DefaultMFAAdapter.error_messages,
        "incorrect_code": "That is not the code. A new one comes every half minute; "
        "see that the phone's clock is right.",
        "cannot_delete_authenticator": "This second step stays on.",
    }

    def generate_authenticator_name(self, user: Any, type: Any) -> str:  # noqa: A002, ARG002 - theirs
        """Suggest a name that the person will overwrite."""
        return "This device"

    def get_totp_label(self, user: Any) -> str:
        """Show the sign-in name in the phone's app."""
        return str(user.get_username())


class SignInForm(LoginForm):  # type: ignore[misc]  # untyped base
    """Asks for name and password in our own words."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["login"].label = "Name or e-mail"
        self.fields["password"].help_text = ""
        self.fields["remember"].label = "Stay signed in on this device"
        for field in self.fields.values():
            field.widget.attrs.pop("placeholder", None)


def name_tried(request: HttpRequest, credentials: dict[str, Any] | None) -> str:
    """Return the name or address that somebody tried to sign in with."""
    given = credentials or request.POST.dict()
    for key in ("username", "email", "login"):
        if value := given.get(key):
            return str(value).strip().lower()[:255]
    return ""


def client_ip(request: HttpRequest) -> str:
    """Return the caller's address, with only our own proxies believed.

    A caller on a local socket has none and counts as the unspecified address.
    """
    try:
        address: str = get_adapter(request).get_client_ip(request)
    except PermissionDenied:
        return _NO_ADDRESS
    return address
