"""Pages about the people of the shop; for the owner."""

from dataclasses import asdict

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path, reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from shop.actions import people as actions
from shop.domain.people import PersonDetails
from shop.domain.roles import ROLE_LABELS, Act
from shop.selectors.history import subject_history
from shop.selectors.people import people_list, person_page
from shop.web.answers import form_page, go_on, take
from shop.web.forms import FigureField, ShopForm, count_in, posted, text_field
from shop.web.shop_facts import facts_of
from shop.web.viewer import acting_user, demand_act, viewer_of

_FORM = "shop/people/form.html"


class PersonForm(ShopForm):
    """What is entered about somebody of the shop."""

    username = text_field(
        "Sign-in name",
        longest=150,
        help_text="Letters, digits and @ . + - _.",
        autocapitalize="none",
        autocomplete="off",
        spellcheck="false",
    )
    first_name = text_field("First name", longest=150)
    last_name = text_field("Last name", longest=150, required=False)
    email = forms.EmailField(
        label="E-mail",
        required=False,
        help_text="For a new password, when the old one is forgotten.",
    )
    role = forms.ChoiceField(
        label="Role",
        choices=[
            ("", "choose"),
            *((role.value, label) for role, label in ROLE_LABELS.items()),
        ],
        help_text="What each may do stands on the page “Who may do what”.",
    )
    hourly_rate = FigureField(
        label="Rate an hour",
        required=False,
        help_text="What the customer pays, without tax. Empty: the shop's rate.",
    )


class NewPersonForm(PersonForm):
    """Somebody new also needs a first password."""

    password = forms.CharField(
        label="First password",
        max_length=200,
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        help_text="Eight characters at least, nothing common. They can change it.",
    )


class PasswordForm(ShopForm):
    """A new password for somebody."""

    password = forms.CharField(
        label="New password",
        max_length=200,
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        help_text="Eight characters at least, nothing common.",
    )


@require_safe
def listing(request: HttpRequest) -> HttpResponse:
    """List everybody, with role and whether they can sign in."""
    return render(
        request,
        "shop/people/list.html",
        {
            "rows": people_list(viewer=viewer_of(request)),
            "currency": facts_of(request).currency,
        },
    )


@require_safe
def page(request: HttpRequest, person_id: int) -> HttpResponse:
    """Show one person and what happened to their account."""
    viewer = viewer_of(request)
    person = person_page(person_id=person_id, viewer=viewer)
    history = subject_history(kind="person", subject_id=person_id, viewer=viewer)
    return render(
        request,
        "shop/people/page.html",
        {
            "person": person,
            "is_me": person_id == viewer.user_id,
            "history": history.rows,
            "history_total": history.total,
            "currency": facts_of(request).currency,
        },
    )


@take
def add(request: HttpRequest) -> HttpResponse:
    """Open an account for somebody who works here."""
    demand_act(request, Act.KEEP_PEOPLE)
    form = NewPersonForm(posted(request))
    count_in(form, facts_of(request).currency)
    if form.is_valid():
        given = dict(form.cleaned_data)
        password = given.pop("password")
        made = form.carry_out(
            actions.add_person,
            details=PersonDetails(**given),
            password=password,
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if made is not None:
            said = f"{made.name} can sign in as {made.username}."
            return go_on(request, said, "shop:people")
    return form_page(
        request,
        _FORM,
        form,
        heading="New account",
        submit_text="Open the account",
        cancel_href=reverse("shop:people"),
    )


@take
def edit(request: HttpRequest, person_id: int) -> HttpResponse:
    """Correct somebody's details or give them another role."""
    viewer = demand_act(request, Act.KEEP_PEOPLE)
    person = person_page(person_id=person_id, viewer=viewer)
    form = PersonForm.editing(request, asdict(person))
    count_in(form, facts_of(request).currency)
    if form.is_valid():
        done = form.carry_out(
            actions.edit_person,
            person_id=person_id,
            changes=form.changes(),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"Account of {done.name} saved."
            return go_on(request, said, "shop:person", person_id)
    return form_page(
        request,
        _FORM,
        form,
        heading=f"Edit {person.name}",
        submit_text="Save",
        person=person,
        cancel_href=reverse("shop:person", args=[person_id]),
    )


@take
def password(request: HttpRequest, person_id: int) -> HttpResponse:
    """Give somebody a new password."""
    viewer = demand_act(request, Act.KEEP_PEOPLE)
    person = person_page(person_id=person_id, viewer=viewer)
    form = PasswordForm(posted(request))
    if form.is_valid():
        done = form.carry_out(
            actions.set_password,
            person_id=person_id,
            password=form.cleaned_data["password"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"{done.name} has a new password. Tell them in person."
            return go_on(request, said, "shop:person", person_id)
    return form_page(
        request,
        _FORM,
        form,
        heading=f"New password for {person.name}",
        submit_text="Set the password",
        person=person,
        cancel_href=reverse("shop:person", args=[person_id]),
    )


@require_POST
def close(request: HttpRequest, person_id: int) -> HttpResponse:
    """Let somebody sign in no more."""
    done = actions.close_account(
        person_id=person_id, acting_user=acting_user(request), at=timezone.now()
    )
    said = f"{done.name} can no longer sign in. What they did stays under their name."
    return go_on(request, said, "shop:person", person_id)


@require_POST
def reopen(request: HttpRequest, person_id: int) -> HttpResponse:
    """Let somebody sign in again."""
    done = actions.reopen_account(
        person_id=person_id, acting_user=acting_user(request), at=timezone.now()
    )
    return go_on(request, f"{done.name} can sign in again.", "shop:person", person_id)


urlpatterns = [
    path("people/", listing, name="people"),
    path("people/add/", add, name="person_add"),
    path("people/<int:person_id>/", page, name="person"),
    path("people/<int:person_id>/edit/", edit, name="person_edit"),
    path("people/<int:person_id>/password/", password, name="person_password"),
    path("people/<int:person_id>/close/", close, name="person_close"),
    path("people/<int:person_id>/reopen/", reopen, name="person_reopen"),
]
