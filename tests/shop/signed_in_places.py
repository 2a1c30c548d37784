"""Places where somebody is signed in, and second steps that they have set up."""

from allauth.mfa.models import Authenticator
from allauth.usersessions.models import UserSession
from django.test import Client

from shop.models import User
from tests.shop.web.pages import signed_in

FIREFOX = "Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0"


def sign_in_from(person: User, *, address: str = "192.0.2.7") -> Client:
    """Return a browser in which somebody is signed in and has been seen."""
    client = signed_in(person)
    UserSession.objects.filter(session_key=client.session.session_key).update(
        ip=address, user_agent=FIREFOX
    )
    return client


def session_of(client: Client) -> UserSession:
    return UserSession.objects.get(session_key=client.session.session_key)


def give_code(person: User) -> Authenticator:
    """Set up a code from the phone for somebody."""
    made: Authenticator = Authenticator.objects.create(
        user=person,
        type=Authenticator.Type.TOTP,
        data={"secret": "JBSWY3DPEHPK3PXP"},
    )
    return made
