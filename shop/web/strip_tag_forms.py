"""Tagging what comes off, correcting it, deciding its fate, moving it."""

from typing import Any

from django import forms
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import path, reverse
from django.utils import timezone
from django.utils.http import urlencode
from typing_extensions import override

from shop.actions import strip_tags as actions
from shop.domain.refusals import Refusal
from shop.domain.roles import Act
from shop.domain.strip_tags import (
    TAG_CONDITION_LABELS,
    TAG_EVENT_DONE,
    TAG_EVENT_LABELS,
    TAG_FATE_LABELS,
    TAG_NEEDS_REASON,
    WITH_OUTSIDE_WORK,
    Consent,
    TagCondition,
    TagDetails,
    TagEvent,
    TagFate,
)
from shop.selectors.strip_tags import StripTagRow, strip_tag_page, strip_tags_of
from shop.web.answers import form_page, go_on, take
from shop.web.forms import ShopForm, posted, prose_field, text_field
from shop.web.viewer import acting_user, demand_act

_CONSENT_HELP = "Needed to scrap it: the customer's own words are best kept."


class TagForm(ShopForm):
    """What stands on a tag; the shelf and the place stay from the last one."""

    name = text_field("What is it?", longest=120, autocomplete="off")
    place = text_field(
        "Where on the bike?",
        longest=120,
        required=False,
        list="known-places",
        autocomplete="off",
    )
    shelf = text_field(
        "Shelf or crate",
        longest=40,
        required=False,
        list="known-shelves",
        autocomplete="off",
    )
    pieces = forms.IntegerField(
        label="Pieces in the bag",
        initial=1,
        min_value=1,
        max_value=999,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "size": 4}),
    )
    condition = forms.ChoiceField(
        label="Condition",
        choices=[(c.value, label) for c, label in TAG_CONDITION_LABELS.items()],
        initial=TagCondition.UNSEEN.value,
        widget=forms.RadioSelect,
    )
    condition_note = prose_field("What about it?", longest=500, required=False, rows=2)


class NewTagForm(TagForm):
    """A tag as it is made, with its photo, what becomes of it, and who agreed."""

    photo = forms.FileField(
        label="Photo",
        required=False,
        widget=forms.ClearableFileInput(
            attrs={"accept": "image/*", "capture": "environment"}
        ),
    )
    fate = forms.ChoiceField(
        label="What becomes of it?",
        choices=[(fate.value, label) for fate, label in TAG_FATE_LABELS.items()],
        initial=TagFate.REFIT.value,
        widget=forms.RadioSelect,
    )
    consent_by_name = text_field(
        "Who agreed to scrap it?", longest=120, required=False, help_text=_CONSENT_HELP
    )
    consent_how = text_field("How?", longest=120, required=False)

    @override
    def refuse(self, refusal: Refusal) -> None:
        """Show what is wrong with the photo at the photo."""
        if refusal.field == "file":
            refusal.field = "photo"
        super().refuse(refusal)

    def details(self) -> TagDetails:
        """Return what stands on the tag."""
        return TagDetails(**{name: self.cleaned_data[name] for name in _DETAILS})

    def consent(self) -> Consent:
        """Return who agreed that it goes."""
        return _consent(self.cleaned_data)


_DETAILS = ("name", "place", "shelf", "pieces", "condition", "condition_note")


class FateForm(ShopForm):
    """What becomes of it, and who agreed where it goes for good."""

    fate = NewTagForm.base_fields["fate"]
    consent_by_name = NewTagForm.base_fields["consent_by_name"]
    consent_how = NewTagForm.base_fields["consent_how"]


class HandlingForm(ShopForm):
    """What goes with a move."""

    shelf = text_field("To which shelf?", longest=40, required=False)
    reason = text_field("Why?", longest=200, required=False)

    def __init__(self, *args: Any, event: TagEvent, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if event not in {TagEvent.TAKE_OFF_AGAIN, TagEvent.BRING_BACK_IN}:
            del self.fields["shelf"]
        self.fields["reason"].required = event in TAG_NEEDS_REASON


@take
def add(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Tag a part or bag, and go on with another one at once."""
    viewer = demand_act(request, Act.KEEP_TAGS)
    found = strip_tags_of(work_order_id=work_order_id, viewer=viewer)
    kept = {name: request.GET.get(name, "")[:120] for name in ("place", "shelf")}
    form = NewTagForm(posted(request), request.FILES or None, initial=kept)
    if form.is_valid():
        made = form.carry_out(
            actions.add_strip_tag,
            work_order_id=work_order_id,
            details=form.details(),
            fate=form.cleaned_data["fate"],
            consent=form.consent(),
            photo=form.cleaned_data["photo"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if made is not None:
            said = f"{made.label} {made.name} is tagged."
            if "another" not in request.POST:
                return go_on(request, said, "shop:strip_tags_of", work_order_id)
            answer = go_on(request, said, "shop:strip_tag_add", work_order_id)
            query = urlencode({"place": made.place, "shelf": made.shelf})
            answer["Location"] = f"{answer['Location']}?{query}"
            return answer
    return form_page(
        request,
        "shop/strip_tags/add.html",
        form,
        page=found,
        last=found.rows[-1] if found.rows else None,
        submit_text="Save, and another one",
        cancel_href=reverse("shop:strip_tags_of", args=[work_order_id]),
    )


@take
def edit(request: HttpRequest, strip_tag_id: int) -> HttpResponse:
    """Correct what stands on a tag, or put it on another shelf."""
    viewer = demand_act(request, Act.KEEP_TAGS)
    tag = strip_tag_page(tag_id=strip_tag_id, viewer=viewer)
    stored = {name: getattr(tag, name) for name in _DETAILS}
    form = TagForm.editing(request, stored)
    if form.is_valid():
        done = form.carry_out(
            actions.edit_strip_tag,
            tag_id=strip_tag_id,
            changes=form.changes(),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            return go_on(request, f"{done.label} saved.", "shop:strip_tag", tag.id)
    return _tag_page(request, tag, form, heading=f"Correct {tag.label}", submit="Save")


@take
def fate(request: HttpRequest, strip_tag_id: int) -> HttpResponse:
    """Decide what becomes of it."""
    viewer = demand_act(request, Act.KEEP_TAGS)
    tag = strip_tag_page(tag_id=strip_tag_id, viewer=viewer)
    form = FateForm(posted(request), initial={"fate": tag.fate})
    if form.is_valid():
        done = form.carry_out(
            actions.decide_fate,
            tag_id=strip_tag_id,
            fate=form.cleaned_data["fate"],
            consent=_consent(form.cleaned_data),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"{done.label}: {done.get_fate_display().lower()}."
            return go_on(request, said, "shop:strip_tag", tag.id)
    return _tag_page(
        request,
        tag,
        form,
        heading=f"What becomes of {tag.label} {tag.name}?",
        submit="Decide",
    )


@take
def move(request: HttpRequest, strip_tag_id: int, tag_event: str) -> HttpResponse:
    """Move one tag, asking for what the move needs."""
    viewer = demand_act(request, Act.KEEP_TAGS)
    event = _event(tag_event)
    tag = strip_tag_page(tag_id=strip_tag_id, viewer=viewer)
    form = HandlingForm(posted(request), event=event)
    if form.is_valid():
        done = form.carry_out(
            actions.move_strip_tags,
            tag_ids=[strip_tag_id],
            event=event,
            handling=actions.Handling(**form.cleaned_data),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"{tag.label} {TAG_EVENT_DONE[event]}."
            return go_on(request, said, "shop:strip_tag", tag.id)
    return _tag_page(
        request,
        tag,
        form,
        heading=f"{TAG_EVENT_LABELS[event]}: {tag.label} {tag.name}",
        submit=TAG_EVENT_LABELS[event],
    )


@take
def move_many(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Move the chosen tags of a work order together, or none of them."""
    viewer = demand_act(request, Act.KEEP_TAGS)
    found = strip_tags_of(work_order_id=work_order_id, viewer=viewer)
    if request.method != "POST":
        return redirect("shop:strip_tags_of", work_order_id)
    event = _event(request.POST.get("tag_event", ""))
    ours = {row.id for row in found.rows}
    sent = [raw for raw in request.POST.getlist("tag_ids") if raw.isdecimal()]
    moved = actions.move_strip_tags(
        tag_ids=[int(raw) for raw in sent if int(raw) in ours],
        event=event,
        acting_user=acting_user(request),
        at=timezone.now(),
    )
    said = f"{len(moved)} {TAG_EVENT_DONE[event]}."
    return go_on(request, said, "shop:strip_tags_of", work_order_id)


def _consent(entered: dict[str, Any]) -> Consent:
    return Consent(by_name=entered["consent_by_name"], how=entered["consent_how"])


def _event(value: str) -> TagEvent:
    if value not in set(TagEvent) - WITH_OUTSIDE_WORK:
        raise Http404
    return TagEvent(value)


def _tag_page(
    request: HttpRequest, tag: StripTagRow, form: ShopForm, *, heading: str, submit: str
) -> HttpResponse:
    return form_page(
        request,
        "shop/strip_tags/form.html",
        form,
        tag=tag,
        heading=heading,
        submit_text=submit,
        cancel_href=reverse("shop:strip_tag", args=[tag.id]),
    )


urlpatterns = [
    path("work-orders/<int:work_order_id>/strip-tags/add/", add, name="strip_tag_add"),
    path(
        "work-orders/<int:work_order_id>/strip-tags/move/",
        move_many,
        name="strip_tags_move",
    ),
    path("strip-tags/<int:strip_tag_id>/edit/", edit, name="strip_tag_edit"),
    path("strip-tags/<int:strip_tag_id>/fate/", fate, name="strip_tag_fate"),
    path(
        "strip-tags/<int:strip_tag_id>/move/<str:tag_event>/",
        move,
        name="strip_tag_move",
    ),
]
