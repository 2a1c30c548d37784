"""Private links: for the shop, and for the customer who came through one."""

from dataclasses import dataclass
from datetime import datetime

from shop.domain.refusals import NotFound, Refusal
from shop.domain.roles import Act, Viewer
from shop.models import Customer, CustomerLink
from shop.selectors.shop_settings import shop_facts

PANEL_ROWS = 10


class LinkClosed(Refusal):
    """The link was real, and does not open any more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LinkRow:
    """One link as the shop sees it; its secret is known to nobody."""

    id: int
    made_at: datetime
    made_by_name: str
    expires_at: datetime
    last_used_at: datetime | None
    state: str
    opens: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LinkPanel:
    """The links of one customer."""

    customer_id: int
    customer_name: str
    may_share: bool
    rows: tuple[LinkRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Guest:
    """The customer behind an open link, and whom to ask."""

    customer_id: int
    customer_name: str
    expires_at: datetime
    shop_name: str
    shop_phone: str
    shop_email: str


def link_panel(*, customer_id: int, viewer: Viewer, at: datetime) -> LinkPanel:
    """Return the latest links of one customer.

    Raises
    ------
    NotAllowed
        The role may not see customers.
    NotFound
        There is no such customer.
    """
    viewer.demand(Act.SEE_CUSTOMERS)
    customer = Customer.objects.filter(pk=customer_id).first()
    if customer is None:
        raise NotFound("customer-not-found", "There is no such customer.")
    found = CustomerLink.objects.of_customer(customer_id).select_related("made_by")
    return LinkPanel(
        customer_id=customer_id,
        customer_name=customer.name,
        may_share=viewer.may(Act.SHARE_WITH_CUSTOMER),
        rows=tuple(_row(link, at) for link in found[:PANEL_ROWS]),
    )


def customer_of_link(*, link_id: int, viewer: Viewer) -> int:
    """Return whose link this is.

    Raises
    ------
    NotFound
        There is no such link.
    """
    viewer.demand(Act.SEE_CUSTOMERS)
    link = CustomerLink.objects.filter(pk=link_id).first()
    if link is None:
        raise NotFound("link-not-found", "There is no such link.")
    return link.customer_id


def guest(*, link_id: int | None, at: datetime) -> Guest:
    """Return the customer behind a link that was opened before.

    Raises
    ------
    NotFound
        No link was opened in this browser.
    LinkClosed
        The link has expired or was revoked meanwhile.
    """
    found = CustomerLink.objects.filter(pk=link_id or 0).select_related("customer")
    link = found.first()
    if link is None:
        raise NotFound(
            "no-link",
            "No private link is open in this browser. Open the link in the message "
            "that the workshop sent.",
        )
    if (refusal := closed_because(link, at)) is not None:
        raise refusal
    shop = shop_facts()
    return Guest(
        customer_id=link.customer_id,
        customer_name=link.customer.name,
        expires_at=link.expires_at,
        shop_name=shop.name,
        shop_phone=shop.phone,
        shop_email=shop.email,
    )


def closed_because(link: CustomerLink, at: datetime) -> LinkClosed | None:
    """Return why the link does not open, or None where it does."""
    if link.revoked_at is not None:
        return LinkClosed(
            "link-revoked",
            "The workshop has closed this link. Ask the workshop for a new one.",
        )
    if link.expires_at <= at:
        return LinkClosed(
            "link-expired",
            f"This link ended on {link.expires_at:%-d %B %Y}. Ask the workshop for a "
            "new one; your paper is still there.",
        )
    return None


def _row(link: CustomerLink, at: datetime) -> LinkRow:
    refusal = closed_because(link, at)
    states = {None: "Open", "link-revoked": "Revoked", "link-expired": "Expired"}
    return LinkRow(
        id=link.pk,
        made_at=link.made_at,
        made_by_name=link.made_by.name,
        expires_at=link.expires_at,
        last_used_at=link.last_used_at,
        state=states[refusal.code if refusal else None],
        opens=refusal is None,
    )
