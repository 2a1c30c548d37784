"""The final check: points answered on a bike, and the shop's own list."""

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import path, reverse
from django.utils import timezone
from django.views.decorators.http import require_POST

from shop.actions import check_lists as actions
from shop.domain.check_lists import ANSWER_LABELS, Answer
from shop.domain.refusals import NotAllowed, NotFound, Refusal
from shop.domain.roles import Act
from shop.models.columns import choices
from shop.selectors.check_lists import check_item, check_points
from shop.web.answers import form_page, go_on, take
from shop.web.forms import ShopForm, posted, prose_field, text_field
from shop.web.viewer import acting_user, demand_act


class AnswerForm(ShopForm):
    """What was found at one point."""

    answer = forms.ChoiceField(
        label="What was found", choices=choices(ANSWER_LABELS), widget=forms.RadioSelect
    )
    note = text_field(
        "Note", longest=300, required=False, help_text="What is not right, if anything."
    )
    seen_answer = forms.ChoiceField(
        choices=choices(ANSWER_LABELS), widget=forms.HiddenInput, required=False
    )


class PointForm(ShopForm):
    """A point of the shop's own list."""

    text = text_field("What is looked at", longest=300)
    caution = prose_field("Caution", longest=2000, required=False, rows=2)


@take
def answer(request: HttpRequest, item_id: int) -> HttpResponse:
    """Answer one point of the final check."""
    viewer = demand_act(request, Act.DO_FINAL_CHECK)
    row = check_item(item_id=item_id, viewer=viewer)
    initial = {"answer": row.answer, "note": row.note, "seen_answer": row.answer}
    form = AnswerForm(posted(request), initial=initial)
    if form.is_valid():
        given, seen = form.cleaned_data, form.cleaned_data["seen_answer"]
        done = form.carry_out(
            actions.answer_check,
            item_id=item_id,
            answer=Answer(given["answer"]),
            note=given["note"],
            seen_answer=Answer(seen) if seen else None,
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            to = reverse("shop:work_order", args=[row.work_order_id])
            return redirect(f"{to}#final-check")
    return form_page(
        request,
        "shop/check_lists/answer.html",
        form,
        row=row,
        submit_text="Save",
        cancel_href=reverse("shop:work_order", args=[row.work_order_id]),
    )


@take
def points(request: HttpRequest) -> HttpResponse:
    """Show the shop's own list, and put a point on it."""
    viewer = demand_act(request, Act.KEEP_TEMPLATES)
    form = PointForm(posted(request))
    if form.is_valid():
        made = form.carry_out(
            actions.add_check_point,
            text=form.cleaned_data["text"],
            caution=form.cleaned_data["caution"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if made is not None:
            return go_on(request, f"On the list: {made.text}.", "shop:check_points")
    return form_page(
        request,
        "shop/check_lists/points.html",
        form,
        rows=check_points(viewer=viewer),
    )


@take
def edit_point(request: HttpRequest, point_id: int) -> HttpResponse:
    """Put a point into other words."""
    viewer = demand_act(request, Act.KEEP_TEMPLATES)
    row = next((r for r in check_points(viewer=viewer) if r.id == point_id), None)
    if row is None:
        raise NotFound("check-point-not-found", "There is no such point on the list.")
    form = PointForm(
        posted(request), initial={"text": row.text, "caution": row.caution}
    )
    if form.is_valid():
        done = form.carry_out(
            actions.edit_check_point,
            point_id=point_id,
            text=form.cleaned_data["text"],
            caution=form.cleaned_data["caution"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            return go_on(request, "Saved.", "shop:check_points")
    return form_page(
        request,
        "shop/check_lists/point.html",
        form,
        submit_text="Save",
        cancel_href=reverse("shop:check_points"),
    )


@require_POST
def retire_point(request: HttpRequest, point_id: int) -> HttpResponse:
    """Take a point off the list."""
    try:
        done = actions.retire_check_point(
            point_id=point_id, acting_user=acting_user(request), at=timezone.now()
        )
    except (NotAllowed, NotFound):
        raise
    except Refusal as refusal:
        messages.error(request, refusal.message)
        return redirect("shop:check_points")
    return go_on(request, f"Off the list: {done.text}.", "shop:check_points")


urlpatterns = [
    path("check-items/<int:item_id>/answer/", answer, name="check_item_answer"),
    path("shop/final-check/", points, name="check_points"),
    path("shop/final-check/<int:point_id>/", edit_point, name="check_point_edit"),
    path(
        "shop/final-check/<int:point_id>/retire/",
        retire_point,
        name="check_point_retire",
    ),
]
