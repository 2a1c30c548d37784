"""Pages about customers."""

from dataclasses import asdict

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path, reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from shop.actions import customers as actions
from shop.domain.customers import LONGEST_NOTE, CustomerDetails
from shop.domain.roles import Act
from shop.selectors.customers import customer as customer_of
from shop.selectors.customers import customer_list, customer_page
from shop.web.answers import form_page, go_on, take
from shop.web.forms import ShopForm, posted, prose_field, text_field
from shop.web.lists import pager, search_text, window_of
from shop.web.viewer import acting_user, demand_act, viewer_of

_FORM = "shop/customers/form.html"


class CustomerForm(ShopForm):
    """What is entered about a customer."""

    name = text_field("Name", longest=120, autocomplete="off")
    phone = text_field("Phone", longest=40, required=False, inputmode="tel")
    email = forms.EmailField(label="E-mail", required=False)
    address = prose_field("Address", longest=500, required=False, rows=3)
    tax_number = text_field(
        "Tax number",
        longest=40,
        required=False,
        help_text="For customers who need it on their paper.",
    )
    notes = prose_field("Notes", longest=LONGEST_NOTE, required=False)


@require_safe
def listing(request: HttpRequest) -> HttpResponse:
    """List the customers, by name."""
    viewer = viewer_of(request)
    search = search_text(request)
    found = customer_list(viewer=viewer, search=search, window=window_of(request))
    return render(
        request,
        "shop/customers/list.html",
        {
            "rows": found.rows,
            "pager": pager(found, q=search),
            "search": search,
            "may_keep": viewer.may(Act.KEEP_CUSTOMERS),
        },
    )


@require_safe
def page(request: HttpRequest, customer_id: int) -> HttpResponse:
    """Show one customer with contacts, bikes and work orders."""
    viewer = viewer_of(request)
    return render(
        request,
        "shop/customers/page.html",
        {
            "page": customer_page(customer_id=customer_id, viewer=viewer),
            "may_keep": viewer.may(Act.KEEP_CUSTOMERS),
            "may_keep_bikes": viewer.may(Act.KEEP_BIKES),
            "may_share": viewer.may(Act.SHARE_WITH_CUSTOMER),
        },
    )


@take
def add(request: HttpRequest) -> HttpResponse:
    """Take on a customer."""
    demand_act(request, Act.KEEP_CUSTOMERS)
    form = CustomerForm(posted(request))
    if form.is_valid():
        made = form.carry_out(
            actions.add_customer,
            details=CustomerDetails(**form.cleaned_data),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if made is not None:
            said = f"{made.name} is a customer now. Add the bike next."
            return go_on(request, said, "shop:customer", made.pk)
    return form_page(
        request,
        _FORM,
        form,
        heading="New customer",
        submit_text="Add the customer",
        cancel_href=reverse("shop:customers"),
    )


@take
def edit(request: HttpRequest, customer_id: int) -> HttpResponse:
    """Correct a customer's details."""
    viewer = demand_act(request, Act.KEEP_CUSTOMERS)
    customer = customer_of(customer_id=customer_id, viewer=viewer)
    form = CustomerForm.editing(request, asdict(customer))
    if form.is_valid():
        done = form.carry_out(
            actions.edit_customer,
            customer_id=customer_id,
            changes=form.changes(),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"Details of {done.name} saved."
            return go_on(request, said, "shop:customer", customer_id)
    return form_page(
        request,
        _FORM,
        form,
        heading=f"Edit {customer.name}",
        submit_text="Save",
        customer=customer,
        cancel_href=reverse("shop:customer", args=[customer_id]),
    )


urlpatterns = [
    path("customers/", listing, name="customers"),
    path("customers/add/", add, name="customer_add"),
    path("customers/<int:customer_id>/", page, name="customer"),
    path("customers/<int:customer_id>/edit/", edit, name="customer_edit"),
]
