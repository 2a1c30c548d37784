"""Pages of the parts list."""

from dataclasses import asdict
from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path, reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from shop.actions import parts as actions
from shop.domain.parts import CONDITION_LABELS, UNIT_LABELS, PartCondition, PartDetails
from shop.domain.roles import Act
from shop.selectors.history import subject_history
from shop.selectors.parts import PartFilter, part_list, part_page
from shop.selectors.tax_rates import TaxRateRow, every_tax_rate
from shop.web.answers import form_page, go_on, take
from shop.web.forms import (
    FigureField,
    PickField,
    ShopForm,
    count_in,
    posted,
    prose_field,
    text_field,
)
from shop.web.lists import pager, search_text, window_of
from shop.web.shop_facts import facts_of
from shop.web.viewer import acting_user, demand_act, viewer_of

_FORM = "shop/parts/form.html"


class PartForm(ShopForm):
    """What is entered about a part."""

    number = text_field("Number", longest=60)
    description = text_field("Description", longest=200)
    condition = forms.ChoiceField(
        label="Condition",
        choices=[(member.value, label) for member, label in CONDITION_LABELS.items()],
    )
    unit = forms.ChoiceField(
        label="Counted by",
        choices=[(member.value, label) for member, label in UNIT_LABELS.items()],
    )
    price = FigureField(label="Price", help_text="For one unit, without tax.")
    tax_rate_id = PickField(label="Tax")
    bin = text_field("Bin", longest=40, required=False)
    notes = prose_field("Notes", longest=5000, required=False)
    is_retired = forms.BooleanField(
        label="Retired",
        required=False,
        help_text="New lines can no longer take it; old ones keep it.",
    )

    def __init__(
        self, *args: Any, rates: tuple[TaxRateRow, ...], currency: str, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        kept = self.initial.get("tax_rate_id")
        self.fields["tax_rate_id"] = PickField(
            label="Tax",
            rows=[
                (rate.id, rate.label)
                for rate in rates
                if not rate.is_retired or rate.id == kept
            ],
            help_text="Which rate is due is for the local tax authority to say.",
        )
        if "number" not in self.initial:
            del self.fields["is_retired"]
        count_in(self, currency)


@require_safe
def listing(request: HttpRequest) -> HttpResponse:
    """List the parts, by number."""
    viewer = viewer_of(request)
    search = search_text(request)
    chosen = request.GET.get("condition", "")
    condition = PartCondition(chosen) if chosen in set(PartCondition) else None
    retired_too = request.GET.get("retired") == "yes"
    found = part_list(
        viewer=viewer,
        wanted=PartFilter(search=search, condition=condition, retired_too=retired_too),
        window=window_of(request),
    )
    return render(
        request,
        "shop/parts/list.html",
        {
            "rows": found.rows,
            "pager": pager(
                found,
                q=search,
                condition=condition.value if condition else "",
                retired="yes" if retired_too else "",
            ),
            "search": search,
            "conditions": list(CONDITION_LABELS.items()),
            "chosen": condition.value if condition else "",
            "retired_too": retired_too,
            "currency": facts_of(request).currency,
            "may_keep": viewer.may(Act.KEEP_PARTS_LIST),
        },
    )


@require_safe
def page(request: HttpRequest, part_id: int) -> HttpResponse:
    """Show one part and what happened to it."""
    viewer = viewer_of(request)
    part = part_page(part_id=part_id, viewer=viewer)
    history = subject_history(kind="part", subject_id=part_id, viewer=viewer)
    return render(
        request,
        "shop/parts/page.html",
        {
            "part": part,
            "history": history.rows,
            "history_total": history.total,
            "currency": facts_of(request).currency,
            "may_keep": viewer.may(Act.KEEP_PARTS_LIST),
        },
    )


@take
def add(request: HttpRequest) -> HttpResponse:
    """Put a part on the list."""
    demand_act(request, Act.KEEP_PARTS_LIST)
    facts = facts_of(request)
    form = PartForm(
        posted(request),
        initial={"tax_rate_id": facts.default_tax_rate_id},
        rates=every_tax_rate(),
        currency=facts.currency,
    )
    if form.is_valid():
        made = form.carry_out(
            actions.add_part,
            details=PartDetails(**form.cleaned_data),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if made is not None:
            said = f"{made.number} is on the parts list."
            return go_on(request, said, "shop:part", made.pk)
    return form_page(
        request,
        _FORM,
        form,
        heading="New part",
        submit_text="Put it on the list",
        cancel_href=reverse("shop:parts"),
    )


@take
def edit(request: HttpRequest, part_id: int) -> HttpResponse:
    """Correct a part; lines that exist keep their copies."""
    viewer = demand_act(request, Act.KEEP_PARTS_LIST)
    part = part_page(part_id=part_id, viewer=viewer)
    form = PartForm.editing(
        request,
        asdict(part),
        rates=every_tax_rate(),
        currency=facts_of(request).currency,
    )
    if form.is_valid():
        done = form.carry_out(
            actions.edit_part,
            part_id=part_id,
            changes=form.changes(),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            return go_on(request, f"{done.number} saved.", "shop:part", part_id)
    return form_page(
        request,
        _FORM,
        form,
        heading=f"Edit {part.number}",
        submit_text="Save",
        part=part,
        cancel_href=reverse("shop:part", args=[part_id]),
    )


urlpatterns = [
    path("parts/", listing, name="parts"),
    path("parts/add/", add, name="part_add"),
    path("parts/<int:part_id>/", page, name="part"),
    path("parts/<int:part_id>/edit/", edit, name="part_edit"),
]
