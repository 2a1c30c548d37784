"""Tokens that let a program act for somebody."""

from datetime import datetime

from django.db import transaction
from rest_framework.authtoken.models import Token

from shop.actions.history import Happening, record
from shop.models import User


@transaction.atomic
def issue_token(*, acting_user: User, at: datetime) -> str:
    """Give somebody their token; asked again, it is the same one."""
    token, is_new = Token.objects.get_or_create(user=acting_user)
    if is_new:
        record(
            Happening(
                verb="token.issued",
                kind="person",
                subject_id=acting_user.pk,
                summary=f"Token for programs issued to {acting_user.name}",
            ),
            acting_user=acting_user,
            at=at,
        )
    return str(token.key)


@transaction.atomic
def give_back_token(*, acting_user: User, at: datetime) -> None:
    """Make somebody's token worthless."""
    gone, _ = Token.objects.filter(user=acting_user).delete()
    if not gone:
        return
    record(
        Happening(
            verb="token.given_back",
            kind="person",
            subject_id=acting_user.pk,
            summary=f"Token of {acting_user.name} given back",
        ),
        acting_user=acting_user,
        at=at,
    )
