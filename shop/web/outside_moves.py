"""Outside work sent out, booked back tag by tag, sent again, dropped."""

from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.urls import path, reverse
from django.utils import timezone

from shop.actions import outside_work as actions
from shop.domain.outside_work import CHECK_RESULT_LABELS, CheckResult, TagCheck
from shop.domain.roles import Act, Viewer
from shop.domain.strip_tags import TagState
from shop.selectors.outside_work import OutingRow, OutsidePage, outside_page
from shop.selectors.strip_tags import strip_tags_of
from shop.web.answers import form_page, go_on, take
from shop.web.forms import DayField, ShopForm, posted, text_field
from shop.web.outside_work import TagsField
from shop.web.viewer import acting_user, demand_act

_PAGE = "shop:outside_work_page"


class SendForm(ShopForm):
    """When it leaves and when it is promised back."""

    sent_on = DayField(label="Leaves on")
    promised_on = DayField(label="Promised back", required=False)

    def dispatch(self) -> actions.Dispatch:
        """Return the two days."""
        return actions.Dispatch(
            sent_on=self.cleaned_data["sent_on"],
            promised_on=self.cleaned_data["promised_on"],
        )


class AgainForm(SendForm):
    """Why it goes again, and with which tags."""

    reason = text_field("Why again?", longest=200)


class DropForm(ShopForm):
    """Why it is dropped."""

    reason = text_field("Why is it dropped?", longest=200)


class BackForm(ShopForm):
    """What is said of each tag that was away."""

    def __init__(self, *args: Any, outings: tuple[OutingRow, ...], **kwargs: Any):
        super().__init__(*args, **kwargs)
        self._tag_ids = [row.tag.id for row in outings]
        for row in outings:
            pk = row.tag.id
            self.fields[f"result_{pk}"] = forms.ChoiceField(
                label=f"{row.tag.label} {row.tag.name}",
                choices=[(r.value, label) for r, label in CHECK_RESULT_LABELS.items()],
                initial=CheckResult.GOOD.value,
                widget=forms.RadioSelect,
            )
            self.fields[f"shelf_{pk}"] = text_field(
                "To which shelf?", longest=40, required=False
            )
            self.fields[f"note_{pk}"] = text_field(
                "What about it?", longest=200, required=False
            )
            self.fields[f"consent_{pk}"] = text_field(
                "If lost or spoiled: who was told and agreed?",
                longest=120,
                required=False,
            )

    def checks(self) -> list[TagCheck]:
        """Return the check of each tag."""
        said = self.cleaned_data
        return [
            TagCheck(
                tag_id=pk,
                result=said[f"result_{pk}"],
                note=said[f"note_{pk}"],
                shelf=said[f"shelf_{pk}"],
                consent_by_name=said[f"consent_{pk}"],
            )
            for pk in self._tag_ids
        ]


@take
def send(request: HttpRequest, outside_work_id: int) -> HttpResponse:
    """Send it out with its tags."""
    viewer = demand_act(request, Act.ARRANGE_OUTSIDE_WORK)
    found = _found(outside_work_id, viewer)
    form = SendForm(posted(request), initial=_days(found))
    if form.is_valid():
        done = form.carry_out(
            actions.send_outside_work,
            outside_work_id=outside_work_id,
            dispatch=form.dispatch(),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"{done.label} is on its way to {found.work.supplier_name}."
            return go_on(request, said, _PAGE, outside_work_id)
    return _page(request, found, form, heading="Send it out", submit="It has left")


@take
def again(request: HttpRequest, outside_work_id: int) -> HttpResponse:
    """Send it to the supplier again, with the tags that were not good."""
    viewer = demand_act(request, Act.ARRANGE_OUTSIDE_WORK)
    found = _found(outside_work_id, viewer)
    order = strip_tags_of(work_order_id=found.work.work_order_id, viewer=viewer)
    not_good = [row.tag.id for row in found.tags if row.result == CheckResult.NOT_GOOD]
    form = AgainForm(
        posted(request),
        initial={"sent_on": timezone.localdate(), "tag_ids": not_good},
    )
    form.fields["tag_ids"] = TagsField(order.in_state(TagState.ON_SHELF))
    if form.is_valid():
        done = form.carry_out(
            actions.send_again,
            outside_work_id=outside_work_id,
            tag_ids=form.cleaned_data["tag_ids"],
            reason=form.cleaned_data["reason"],
            dispatch=form.dispatch(),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"{done.label} is on its way again."
            return go_on(request, said, _PAGE, outside_work_id)
    return _page(request, found, form, heading="Send it again", submit="It has left")


@take
def back(request: HttpRequest, outside_work_id: int) -> HttpResponse:
    """Book back what has come, with the check of each tag."""
    viewer = demand_act(request, Act.KEEP_TAGS)
    found = _found(outside_work_id, viewer)
    form = BackForm(posted(request), outings=found.to_come)
    if form.is_valid():
        done = form.carry_out(
            actions.book_back,
            outside_work_id=outside_work_id,
            checks=form.checks(),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"{done.label}: {done.get_state_display().lower()}."
            return go_on(request, said, _PAGE, outside_work_id)
    return _page(request, found, form, heading="Book it back", submit="Book it back")


@take
def drop(request: HttpRequest, outside_work_id: int) -> HttpResponse:
    """Drop work that has not left."""
    viewer = demand_act(request, Act.ARRANGE_OUTSIDE_WORK)
    found = _found(outside_work_id, viewer)
    form = DropForm(posted(request))
    if form.is_valid():
        done = form.carry_out(
            actions.drop_outside_work,
            outside_work_id=outside_work_id,
            reason=form.cleaned_data["reason"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"{done.label} is dropped. Its tags stay on the shelf."
            return go_on(request, said, _PAGE, outside_work_id)
    return _page(request, found, form, heading="Drop it", submit="Drop it")


def _found(outside_work_id: int, viewer: Viewer) -> OutsidePage:
    return outside_page(
        outside_work_id=outside_work_id, viewer=viewer, today=timezone.localdate()
    )


def _days(found: OutsidePage) -> dict[str, object]:
    return {"sent_on": timezone.localdate(), "promised_on": found.work.promised_on}


def _page(
    request: HttpRequest,
    found: OutsidePage,
    form: ShopForm,
    *,
    heading: str,
    submit: str,
) -> HttpResponse:
    return form_page(
        request,
        "shop/outside_work/move.html",
        form,
        page=found,
        heading=f"{heading}: {found.work.label} {found.work.description}",
        submit_text=submit,
        cancel_href=reverse(_PAGE, args=[found.work.id]),
    )


_ONE = "outside-work/<int:outside_work_id>"
urlpatterns = [
    path(f"{_ONE}/send/", send, name="outside_work_send"),
    path(f"{_ONE}/back/", back, name="outside_work_back"),
    path(f"{_ONE}/again/", again, name="outside_work_again"),
    path(f"{_ONE}/drop/", drop, name="outside_work_drop"),
]
