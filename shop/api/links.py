"""A customer's private links over the API: made, listed, revoked."""

from dataclasses import dataclass
from datetime import datetime

from django.conf import settings
from django.urls import reverse
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.links import make_link, revoke_link
from shop.api.describe import MOVING, READING, WRITING, answers
from shop.api.views import ShopView, created, one
from shop.selectors.links import LinkPanel, customer_of_link, link_panel

TAG = ["private links"]


@dataclass(frozen=True, slots=True, kw_only=True)
class NewLink:
    """A new link; its address is answered this once and kept nowhere."""

    id: int
    address: str
    expires_at: datetime


class CustomerLinksView(ShopView):
    @extend_schema(
        operation_id="links_list",
        summary="The private links of a customer, without their secrets",
        tags=TAG,
        responses=answers(LinkPanel, of=READING),
    )
    def get(self, request: Request, customer_id: int) -> Response:
        return one(link_panel(customer_id=customer_id, viewer=self.viewer, at=self.now))

    @extend_schema(
        operation_id="links_make",
        summary="Make a private link for a customer",
        tags=TAG,
        request=None,
        responses=answers(NewLink, of=WRITING, status=201),
    )
    def post(self, request: Request, customer_id: int) -> Response:
        made = make_link(customer_id=customer_id, acting_user=self.person, at=self.now)
        way = reverse("shop:link_enter", args=[made.secret])
        answer = created(
            NewLink(
                id=made.link_id,
                address=f"{settings.PUBLIC_URL}{way}",
                expires_at=made.expires_at,
            )
        )
        answer.headers["Cache-Control"] = "private, no-store"
        return answer


class LinkRevokeView(ShopView):
    @extend_schema(
        operation_id="links_revoke",
        summary="Close a private link at once",
        tags=TAG,
        request=None,
        responses=answers(LinkPanel, of=MOVING),
    )
    def post(self, request: Request, link_id: int) -> Response:
        customer_id = customer_of_link(link_id=link_id, viewer=self.viewer)
        revoke_link(link_id=link_id, acting_user=self.person, at=self.now)
        return one(link_panel(customer_id=customer_id, viewer=self.viewer, at=self.now))
