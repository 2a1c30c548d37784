"""Private links: made and revoked by the shop, opened by the customer."""

import hashlib
from dataclasses import dataclass
from datetime import datetime, timedelta
from secrets import token_urlsafe

from django.db import transaction

from shop.actions.history import Happening, record
from shop.domain.refusals import IllegalMove, NotFound
from shop.domain.roles import Act, Role, demand
from shop.models import Customer, CustomerLink, User
from shop.selectors.links import closed_because

LIFE_DAYS = 60
SECRET_BYTES = 32


@dataclass(frozen=True, slots=True)
class MadeLink:
    """A new link and its secret, which nobody can read again."""

    link_id: int
    secret: str
    expires_at: datetime


def make_link(*, customer_id: int, acting_user: User, at: datetime) -> MadeLink:
    """Make a link to one customer's own paper; only a hash of its secret is kept.

    Raises
    ------
    NotAllowed
        The role may not share with customers.
    NotFound
        There is no such customer.
    """
    demand(Role(acting_user.role), Act.SHARE_WITH_CUSTOMER)
    secret = token_urlsafe(SECRET_BYTES)
    with transaction.atomic():
        if not Customer.objects.filter(pk=customer_id).exists():
            raise NotFound("customer-not-found", "There is no such customer.")
        link = CustomerLink.objects.create(
            customer_id=customer_id,
            secret_hash=_hash_of(secret),
            made_by=acting_user,
            made_at=at,
            expires_at=at + timedelta(days=LIFE_DAYS),
        )
        _note(link, "link_made", "Private link made", acting_user, at)
    return MadeLink(link.pk, secret, link.expires_at)


def revoke_link(*, link_id: int, acting_user: User, at: datetime) -> CustomerLink:
    """Close a link at once, for everybody who holds it.

    Raises
    ------
    NotAllowed
        The role may not share with customers.
    NotFound
        There is no such link.
    IllegalMove
        It is revoked already.
    """
    demand(Role(acting_user.role), Act.SHARE_WITH_CUSTOMER)
    with transaction.atomic():
        closed = CustomerLink.objects.filter(
            pk=link_id, revoked_at__isnull=True
        ).update(revoked_at=at, revoked_by=acting_user)
        link = CustomerLink.objects.filter(pk=link_id).first()
        if link is None:
            raise NotFound("link-not-found", "There is no such link.")
        if not closed:
            raise IllegalMove("link-revoked", "This link has been revoked already.")
        _note(link, "link_revoked", "Private link revoked", acting_user, at)
    return link


def open_link(*, secret: str, acting_user: None, at: datetime) -> CustomerLink:
    """Let the holder of the secret in, and note that the link was used.

    Raises
    ------
    NotFound
        No link has this secret.
    LinkClosed
        The link has expired or was revoked.
    """
    with transaction.atomic():
        link = CustomerLink.objects.filter(secret_hash=_hash_of(secret)).first()
        if link is None:
            raise NotFound(
                "link-unknown",
                "This link is not complete or was never ours. Open it again from the "
                "message that the workshop sent.",
            )
        if (refusal := closed_because(link, at)) is not None:
            raise refusal
        CustomerLink.objects.filter(pk=link.pk).update(last_used_at=at)
        _note(link, "link_opened", "Private link opened", acting_user, at)
    return link


def _hash_of(secret: str) -> str:
    """Return what is kept of a secret; 256 random bits need no slow hash."""
    return hashlib.sha256(secret.encode()).hexdigest()


def _note(
    link: CustomerLink, done: str, summary: str, acting_user: User | None, at: datetime
) -> None:
    happening = Happening(
        verb=f"customer.{done}",
        kind="customer",
        subject_id=link.customer_id,
        summary=summary,
    )
    record(happening, acting_user=acting_user, at=at)
