"""Further people to reach for a customer."""

from dataclasses import asdict

from django import forms
from django.http import HttpRequest, HttpResponse
from django.urls import path, reverse
from django.utils import timezone

from shop.actions import contacts as actions
from shop.domain.contacts import WAY_LABELS, ContactDetails
from shop.domain.roles import Act
from shop.selectors.contacts import contact as contact_of
from shop.selectors.customers import customer as customer_of
from shop.web.answers import form_page, go_on, take
from shop.web.forms import ShopForm, posted, prose_field, text_field
from shop.web.viewer import acting_user, demand_act

_FORM = "shop/contacts/form.html"


class ContactForm(ShopForm):
    """What is entered about a contact."""

    name = text_field("Name", longest=120, autocomplete="off")
    relation = text_field(
        "Who this is",
        longest=80,
        required=False,
        help_text="For example: daughter, workshop, rides the bike.",
    )
    phone = text_field("Phone", longest=40, required=False, inputmode="tel")
    email = forms.EmailField(label="E-mail", required=False)
    preferred = forms.ChoiceField(
        label="Preferred way",
        choices=[(way.value, label) for way, label in WAY_LABELS.items()],
    )
    notes = prose_field("Notes", longest=1000, required=False, rows=3)


class RetireForm(ShopForm):
    """Nothing to enter: pressing the button says it."""


@take
def add(request: HttpRequest, customer_id: int) -> HttpResponse:
    """Write down a further way to reach a customer."""
    viewer = demand_act(request, Act.KEEP_CUSTOMERS)
    customer = customer_of(customer_id=customer_id, viewer=viewer)
    form = ContactForm(posted(request))
    if form.is_valid():
        made = form.carry_out(
            actions.add_contact,
            customer_id=customer_id,
            details=ContactDetails(**form.cleaned_data),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if made is not None:
            said = f"{made.name} can be reached for {customer.name} now."
            return go_on(request, said, "shop:customer", customer_id)
    return form_page(
        request,
        _FORM,
        form,
        customer=customer,
        heading=f"New contact for {customer.name}",
        submit_text="Add the contact",
        cancel_href=reverse("shop:customer", args=[customer_id]),
    )


@take
def edit(request: HttpRequest, contact_id: int) -> HttpResponse:
    """Correct a contact."""
    viewer = demand_act(request, Act.KEEP_CUSTOMERS)
    contact = contact_of(contact_id=contact_id, viewer=viewer)
    customer = customer_of(customer_id=contact.customer_id, viewer=viewer)
    form = ContactForm.editing(request, asdict(contact))
    if form.is_valid():
        done = form.carry_out(
            actions.edit_contact,
            contact_id=contact_id,
            changes=form.changes(),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"Contact {done.name} saved."
            return go_on(request, said, "shop:customer", contact.customer_id)
    return form_page(
        request,
        _FORM,
        form,
        customer=customer,
        contact=contact,
        heading=f"Edit {contact.name}",
        submit_text="Save",
        cancel_href=reverse("shop:customer", args=[contact.customer_id]),
    )


@take
def retire(request: HttpRequest, contact_id: int) -> HttpResponse:
    """Take a contact out of use, after asking."""
    viewer = demand_act(request, Act.KEEP_CUSTOMERS)
    contact = contact_of(contact_id=contact_id, viewer=viewer)
    customer = customer_of(customer_id=contact.customer_id, viewer=viewer)
    form = RetireForm(posted(request))
    if form.is_valid():
        done = form.carry_out(
            actions.retire_contact,
            contact_id=contact_id,
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"{done.name} is no longer a contact of {customer.name}."
            return go_on(request, said, "shop:customer", contact.customer_id)
    return form_page(
        request,
        _FORM,
        form,
        customer=customer,
        contact=contact,
        heading=f"Take {contact.name} out of use?",
        submit_text="Take out of use",
        cancel_href=reverse("shop:customer", args=[contact.customer_id]),
    )


urlpatterns = [
    path("customers/<int:customer_id>/contacts/add/", add, name="contact_add"),
    path("contacts/<int:contact_id>/edit/", edit, name="contact_edit"),
    path("contacts/<int:contact_id>/retire/", retire, name="contact_retire"),
]
