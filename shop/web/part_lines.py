"""Putting parts on a work order, and striking them out."""

from collections.abc import Iterable
from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.urls import path, reverse
from django.utils import timezone

from shop.actions import part_lines as actions
from shop.domain.roles import Act
from shop.selectors.part_lines import part_line
from shop.selectors.parts import PartFilter, PartRow, part_list
from shop.selectors.windows import Window
from shop.selectors.work_orders import work_order_page
from shop.web.answers import form_page, go_on, take
from shop.web.forms import FigureField, PickField, ShopForm, posted
from shop.web.lists import search_text
from shop.web.tags import money
from shop.web.viewer import acting_user, demand_act, viewer_of
from shop.web.voids import VoidForm

MOST_FOUND = 20


class PartLineForm(ShopForm):
    """Which part, and how many."""

    part_id = PickField(label="Part")
    quantity = FigureField(label="Quantity", min_value=0, initial=1)

    def __init__(
        self, *args: Any, parts: Iterable[PartRow], currency: str, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.fields["part_id"] = PickField(
            label="Part",
            widget=forms.RadioSelect,
            rows=[(part.id, _choice(part, currency)) for part in parts],
        )


@take
def add(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Put a part on a work order, at the price of today's parts list."""
    viewer = demand_act(request, Act.BOOK_PARTS)
    found = work_order_page(work_order_id=work_order_id, viewer=viewer)
    search = search_text(request)
    parts = part_list(
        viewer=viewer,
        wanted=PartFilter(search=search),
        window=Window(limit=MOST_FOUND),
    )
    form = PartLineForm(
        posted(request), parts=parts.rows, currency=found.totals.currency
    )
    if form.is_valid():
        line = form.carry_out(
            actions.add_part_line,
            work_order_id=work_order_id,
            part_id=form.cleaned_data["part_id"],
            quantity=form.cleaned_data["quantity"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if line is not None:
            said = f"{line.description} is on the ticket."
            return go_on(request, said, "shop:work_order", work_order_id)
    return form_page(
        request,
        "shop/part_lines/form.html",
        form,
        order=found.order,
        search=search,
        found=parts.total,
        shown=len(parts.rows),
        may_keep_parts=viewer.may(Act.KEEP_PARTS_LIST),
        submit_text="Put it on the ticket",
        cancel_href=reverse("shop:work_order", args=[work_order_id]),
    )


@take
def void(request: HttpRequest, line_id: int) -> HttpResponse:
    """Strike out a part line with a reason; it stays in sight."""
    demand_act(request, Act.BOOK_PARTS)
    line = part_line(line_id=line_id, viewer=viewer_of(request))
    form = VoidForm(posted(request))
    if form.is_valid():
        done = form.carry_out(
            actions.void_part_line,
            line_id=line_id,
            reason=form.cleaned_data["reason"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"Struck out: {line.description}. It stays on the ticket as void."
            return go_on(request, said, "shop:work_order", line.work_order_id)
    return form_page(
        request,
        "shop/partials/void.html",
        form,
        what=f"{line.quantity_text} {line.unit_label} {line.description}",
        submit_text="Strike it out",
        cancel_href=reverse("shop:work_order", args=[line.work_order_id]),
    )


def _choice(part: PartRow, currency: str) -> str:
    price = f"{money(part.price, currency)} / {part.unit_label}"
    where = f", bin {part.bin}" if part.bin else ""
    condition = part.condition_label.lower()
    return f"{part.number} {part.description} ({condition}{where}) {price}"


urlpatterns = [
    path("work-orders/<int:work_order_id>/parts/add/", add, name="part_line_add"),
    path("part-lines/<int:line_id>/void/", void, name="part_line_void"),
]
