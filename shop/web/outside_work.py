"""Pages of outside work: what is out, planning, sending, booking back."""

from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path, reverse
from django.utils import timezone
from django.views.decorators.http import require_safe
from typing_extensions import override

from shop.actions import outside_work as actions
from shop.domain.outside_work import OUTSIDE_STATE_LABELS, OutsideDetails, OutsideState
from shop.domain.roles import Act
from shop.domain.strip_tags import TagState
from shop.domain.suppliers import TRADE_LABELS
from shop.selectors.history import subject_history
from shop.selectors.outside_work import OutsideFilter, outside_list, outside_page
from shop.selectors.strip_tags import StripTagRow, strip_tags_of
from shop.selectors.suppliers import SupplierRow, suppliers_in_use
from shop.selectors.tax_rates import tax_rates_in_use
from shop.web.answers import form_page, go_on, take
from shop.web.forms import (
    DayField,
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

OVERDUE, ALL = "overdue", "all"


class TagsField(forms.TypedMultipleChoiceField):
    """Some of a work order's tags, ticked."""

    def __init__(self, rows: tuple[StripTagRow, ...]) -> None:
        super().__init__(
            label="Which tags go?",
            required=False,
            coerce=int,
            choices=[(str(row.id), _tag_words(row)) for row in rows],
            widget=forms.CheckboxSelectMultiple,
        )


class OutsideForm(ShopForm):
    """What is entered about outside work."""

    supplier_id = PickField(label="Supplier")
    trade = forms.ChoiceField(
        label="Trade", choices=[(t.value, label) for t, label in TRADE_LABELS.items()]
    )
    description = text_field(
        "What is to be done", longest=200, help_text="The customer reads this."
    )
    promised_on = DayField(label="Promised back", required=False)
    quote_amount = FigureField(
        label="Quote", required=False, help_text="What the supplier asks, without tax."
    )
    cost_amount = FigureField(
        label="Cost", required=False, help_text="From the supplier's bill, without tax."
    )
    markup_percent = FigureField(
        label="Mark-up", required=False, unit="%", help_text="Empty: the usual one."
    )
    notes = prose_field("Notes", longest=5000, required=False, rows=2)

    def __init__(
        self,
        *args: Any,
        suppliers: tuple[SupplierRow, ...],
        currency: str,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.fields["supplier_id"] = PickField(
            label="Supplier",
            rows=[
                (row.id, f"{row.name} ({row.trades_text})" if row.trades else row.name)
                for row in suppliers
            ],
        )
        self._markups = {row.id: row.markup_percent for row in suppliers}
        count_in(self, currency)

    @override
    def clean(self) -> dict[str, Any]:
        """Take the supplier's usual mark-up where none is said."""
        entered = super().clean() or self.cleaned_data
        if entered.get("markup_percent") is None and not self.has_error(
            "markup_percent"
        ):
            usual = self._markups.get(entered.get("supplier_id") or 0, 0)
            entered["markup_percent"] = usual
        return entered


class NewOutsideForm(OutsideForm):
    """Outside work as it is planned, with its tags."""

    def __init__(
        self, *args: Any, tags: tuple[StripTagRow, ...], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.fields["tag_ids"] = TagsField(tags)
        self.fields["tax_rate_id"] = PickField(
            label="Tax",
            required=False,
            empty="the shop's usual rate",
            rows=[(rate.id, rate.label) for rate in tax_rates_in_use()],
        )


@require_safe
def listing(request: HttpRequest) -> HttpResponse:
    """List outside work: what is away and due soonest first."""
    viewer = viewer_of(request)
    search = search_text(request)
    chosen = request.GET.get("state", OutsideState.AWAY.value)
    state = OutsideState(chosen) if chosen in set(OutsideState) else None
    if state is None and chosen not in {ALL, OVERDUE}:
        chosen, state = OutsideState.AWAY.value, OutsideState.AWAY
    found = outside_list(
        viewer=viewer,
        today=timezone.localdate(),
        wanted=OutsideFilter(
            search=search, state=state, overdue_only=chosen == OVERDUE
        ),
        window=window_of(request),
    )
    return render(
        request,
        "shop/outside_work/list.html",
        {
            "rows": found.rows,
            "pager": pager(found, q=search, state=chosen),
            "search": search,
            "chosen": chosen,
            "currency": facts_of(request).currency,
            "tabs": [
                (OVERDUE, "Overdue"),
                *((s.value, label) for s, label in OUTSIDE_STATE_LABELS.items()),
                (ALL, "All"),
            ],
        },
    )


@require_safe
def page(request: HttpRequest, outside_work_id: int) -> HttpResponse:
    """Show one piece of outside work with its tags."""
    viewer = viewer_of(request)
    found = outside_page(
        outside_work_id=outside_work_id, viewer=viewer, today=timezone.localdate()
    )
    history = subject_history(
        kind="outside_work", subject_id=outside_work_id, viewer=viewer
    )
    return render(
        request,
        "shop/outside_work/page.html",
        {
            "page": found,
            "currency": facts_of(request).currency,
            "history": history.rows,
            "history_total": history.total,
            "may_arrange": viewer.may(Act.ARRANGE_OUTSIDE_WORK) and found.work.is_open,
            "may_book_back": viewer.may(Act.KEEP_TAGS) and found.work.is_open,
        },
    )


@take
def add(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Plan outside work for a work order, with the tags that will go."""
    viewer = demand_act(request, Act.ARRANGE_OUTSIDE_WORK)
    tags = strip_tags_of(work_order_id=work_order_id, viewer=viewer)
    suppliers = suppliers_in_use()
    form = NewOutsideForm(
        posted(request),
        suppliers=suppliers,
        tags=tags.in_state(TagState.ON_SHELF),
        currency=facts_of(request).currency,
    )
    if form.is_valid():
        entered = dict(form.cleaned_data)
        made = form.carry_out(
            actions.plan_outside_work,
            work_order_id=work_order_id,
            tag_ids=entered.pop("tag_ids"),
            tax_rate_id=entered.pop("tax_rate_id"),
            details=OutsideDetails(**entered),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if made is not None:
            said = f"{made.label} is planned. Send it when it leaves."
            return go_on(request, said, "shop:outside_work_page", made.pk)
    return form_page(
        request,
        "shop/outside_work/form.html",
        form,
        heading=f"Outside work for {tags.work_order_label}",
        order=tags,
        no_suppliers=not suppliers,
        may_keep_suppliers=viewer.may(Act.KEEP_SUPPLIERS),
        submit_text="Plan it",
        cancel_href=reverse("shop:work_order", args=[work_order_id]),
    )


@take
def edit(request: HttpRequest, outside_work_id: int) -> HttpResponse:
    """Correct words, days and amounts; the supplier's bill is entered here too."""
    viewer = demand_act(request, Act.ARRANGE_OUTSIDE_WORK)
    work = outside_page(
        outside_work_id=outside_work_id, viewer=viewer, today=timezone.localdate()
    ).work
    form = OutsideForm.editing(
        request,
        {name: getattr(work, name) for name in _EDITED},
        suppliers=suppliers_in_use(),
        currency=facts_of(request).currency,
    )
    if form.is_valid():
        done = form.carry_out(
            actions.edit_outside_work,
            outside_work_id=outside_work_id,
            changes=form.changes(),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            return go_on(
                request, f"{done.label} saved.", "shop:outside_work_page", work.id
            )
    return form_page(
        request,
        "shop/outside_work/form.html",
        form,
        heading=f"Edit {work.label}",
        submit_text="Save",
        cancel_href=reverse("shop:outside_work_page", args=[work.id]),
    )


_EDITED = (
    "supplier_id",
    "trade",
    "description",
    "promised_on",
    "quote_amount",
    "cost_amount",
    "markup_percent",
    "notes",
)


def _tag_words(row: StripTagRow) -> str:
    shelf = f", {row.where}" if row.shelf else ""
    return f"{row.label} {row.name} ({row.fate_label.lower()}{shelf})"


urlpatterns = [
    path("outside-work/", listing, name="outside_work"),
    path("outside-work/<int:outside_work_id>/", page, name="outside_work_page"),
    path("outside-work/<int:outside_work_id>/edit/", edit, name="outside_work_edit"),
    path(
        "work-orders/<int:work_order_id>/outside-work/add/",
        add,
        name="outside_work_add",
    ),
]
