"""Clients that have signed in over the API."""

from rest_framework.authtoken.models import Token
from rest_framework.test import APIClient

from shop.models import User


def client_of(person: User) -> APIClient:
    """Return a client that sends the person's token."""
    token, _ = Token.objects.get_or_create(user=person)
    client = APIClient()
    client.credentials(HTTP_AUTHORIZATION=f"Token {token.key}")
    return client
