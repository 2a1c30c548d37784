"""Pages about suppliers."""

from dataclasses import asdict
from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path, reverse
from django.utils import timezone
from django.views.decorators.http import require_safe
from typing_extensions import override

from shop.actions import suppliers as actions
from shop.domain.roles import Act
from shop.domain.suppliers import LONGEST_LEAD_DAYS, TRADE_LABELS, SupplierDetails
from shop.selectors.history import subject_history
from shop.selectors.outside_work import OutsideFilter, outside_list
from shop.selectors.suppliers import supplier_list, supplier_page
from shop.web.answers import form_page, go_on, take
from shop.web.forms import FigureField, ShopForm, posted, prose_field, text_field
from shop.web.lists import pager, search_text, window_of
from shop.web.shop_facts import facts_of
from shop.web.viewer import acting_user, demand_act, viewer_of

_FORM = "shop/suppliers/form.html"


class TradesField(forms.MultipleChoiceField):
    """Some of the trades, ticked."""

    def __init__(self) -> None:
        super().__init__(
            label="Trades",
            required=False,
            choices=[(trade.value, label) for trade, label in TRADE_LABELS.items()],
            widget=forms.CheckboxSelectMultiple,
        )

    @override
    def clean(self, value: Any) -> tuple[str, ...]:
        """Return the ticked ones."""
        return tuple(super().clean(value))


class SupplierForm(ShopForm):
    """What is entered about a supplier."""

    name = text_field("Name", longest=120, autocomplete="off")
    contact = text_field("Ask for", longest=120, required=False)
    phone = text_field("Phone", longest=40, required=False, inputmode="tel")
    email = forms.EmailField(label="E-mail", required=False)
    address = prose_field("Address", longest=500, required=False, rows=3)
    trades = TradesField()
    lead_days = forms.IntegerField(
        label="Usual lead time",
        required=False,
        min_value=0,
        max_value=LONGEST_LEAD_DAYS,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "size": 5}),
        help_text="In days, from sending to getting back. Empty where nobody knows.",
    )
    markup_percent = FigureField(
        label="Usual mark-up",
        unit="%",
        initial=0,
        help_text="What the shop adds to this supplier's price.",
    )
    notes = prose_field("Notes", longest=5000, required=False)
    is_retired = forms.BooleanField(
        label="Retired", required=False, help_text="No new work goes there."
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if "name" not in self.initial:
            del self.fields["is_retired"]


@require_safe
def listing(request: HttpRequest) -> HttpResponse:
    """List the suppliers, by name."""
    viewer = viewer_of(request)
    search = search_text(request)
    found = supplier_list(viewer=viewer, search=search, window=window_of(request))
    return render(
        request,
        "shop/suppliers/list.html",
        {
            "rows": found.rows,
            "pager": pager(found, q=search),
            "search": search,
            "may_keep": viewer.may(Act.KEEP_SUPPLIERS),
        },
    )


@require_safe
def page(request: HttpRequest, supplier_id: int) -> HttpResponse:
    """Show one supplier and what it has of ours."""
    viewer = viewer_of(request)
    supplier = supplier_page(supplier_id=supplier_id, viewer=viewer)
    history = subject_history(kind="supplier", subject_id=supplier_id, viewer=viewer)
    work = outside_list(
        viewer=viewer,
        today=timezone.localdate(),
        wanted=OutsideFilter(supplier_id=supplier_id),
    )
    return render(
        request,
        "shop/suppliers/page.html",
        {
            "supplier": supplier,
            "work": work.rows,
            "currency": facts_of(request).currency,
            "history": history.rows,
            "history_total": history.total,
            "may_keep": viewer.may(Act.KEEP_SUPPLIERS),
        },
    )


@take
def add(request: HttpRequest) -> HttpResponse:
    """Write down a supplier."""
    demand_act(request, Act.KEEP_SUPPLIERS)
    form = SupplierForm(posted(request))
    if form.is_valid():
        made = form.carry_out(
            actions.add_supplier,
            details=SupplierDetails(**form.cleaned_data),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if made is not None:
            said = f"{made.name} is written down."
            return go_on(request, said, "shop:supplier", made.pk)
    return form_page(
        request,
        _FORM,
        form,
        heading="New supplier",
        submit_text="Add the supplier",
        cancel_href=reverse("shop:suppliers"),
    )


@take
def edit(request: HttpRequest, supplier_id: int) -> HttpResponse:
    """Correct a supplier's details."""
    viewer = demand_act(request, Act.KEEP_SUPPLIERS)
    supplier = supplier_page(supplier_id=supplier_id, viewer=viewer)
    form = SupplierForm.editing(request, asdict(supplier))
    if form.is_valid():
        done = form.carry_out(
            actions.edit_supplier,
            supplier_id=supplier_id,
            changes=form.changes(),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            return go_on(request, f"{done.name} saved.", "shop:supplier", supplier_id)
    return form_page(
        request,
        _FORM,
        form,
        heading=f"Edit {supplier.name}",
        submit_text="Save",
        supplier=supplier,
        cancel_href=reverse("shop:supplier", args=[supplier_id]),
    )


urlpatterns = [
    path("suppliers/", listing, name="suppliers"),
    path("suppliers/add/", add, name="supplier_add"),
    path("suppliers/<int:supplier_id>/", page, name="supplier"),
    path("suppliers/<int:supplier_id>/edit/", edit, name="supplier_edit"),
]
