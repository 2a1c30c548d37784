"""Pages about photos and documents, and the files themselves."""

from http import HTTPStatus

from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.http.response import StreamingHttpResponse
from django.shortcuts import redirect, render
from django.urls import path, reverse
from django.utils import timezone
from django.utils.cache import get_conditional_response
from django.views.decorators.http import require_POST, require_safe

from shop.actions import attachments as actions
from shop.domain.attachments import (
    CAPTION,
    MEBIBYTE,
    MOST_BYTES,
    SentFile,
    Subject,
    read_in,
)
from shop.domain.refusals import NotFound, Refusal
from shop.domain.roles import Act
from shop.selectors.attachment_files import Disposition, headers_of, pieces_of
from shop.selectors.attachments import (
    AttachmentFile,
    AttachmentRow,
    attachment,
    attachment_file,
    attachment_panel,
    attachment_screen,
    attachment_thumbnail,
)
from shop.web.answers import form_page, go_on, take
from shop.web.forms import ShopForm, posted, prose_field, text_field
from shop.web.viewer import acting_user, demand_act, viewer_of

MOST_FILES = 20
_NOTHING = "No file was chosen. Take a photo or choose one, then add it."
_HOMES = {
    Subject.BIKE: "shop:bike",
    Subject.WORK_ORDER: "shop:work_order",
}


class CaptionForm(ShopForm):
    """What a photo or document shows."""

    caption = text_field("What it shows", longest=CAPTION.longest, required=False)


class RemoveForm(ShopForm):
    """Why it is taken away."""

    reason = prose_field("Why it is taken away", longest=200, rows=2)


@take
def listing(request: HttpRequest, about: str, about_id: int) -> HttpResponse:
    """Show the photos and documents of one thing; take more of them."""
    if request.method == "POST":
        return _add(request, _subject(about), about_id)
    return _page(request, _subject(about), about_id)


@require_safe
def panel(request: HttpRequest, about: str, about_id: int) -> HttpResponse:
    """Show the panel alone, for the page of the thing."""
    found = attachment_panel(
        subject=_subject(about), subject_id=about_id, viewer=viewer_of(request)
    )
    return render(request, "shop/attachments/panel.html", _offered(found))


@take
def page(request: HttpRequest, attachment_id: int) -> HttpResponse:
    """Show one photo or document large; say what it shows."""
    viewer = viewer_of(request)
    row = attachment(attachment_id=attachment_id, viewer=viewer)
    form = CaptionForm.editing(request, {"caption": row.caption})
    if request.method == "POST":
        demand_act(request, Act.KEEP_ATTACHMENTS)
    if form.is_valid():
        done = form.carry_out(
            actions.edit_caption,
            attachment_id=attachment_id,
            caption=form.cleaned_data["caption"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            return go_on(request, "Caption saved.", "shop:attachment", attachment_id)
    return form_page(
        request,
        "shop/attachments/page.html",
        form,
        row=row,
        may_keep=viewer.may(Act.KEEP_ATTACHMENTS),
        home=_home(row),
    )


@take
def remove(request: HttpRequest, attachment_id: int) -> HttpResponse:
    """Take a photo or document out of sight, with the reason."""
    viewer = demand_act(request, Act.KEEP_ATTACHMENTS)
    row = attachment(attachment_id=attachment_id, viewer=viewer)
    form = RemoveForm(posted(request))
    if form.is_valid():
        done = form.carry_out(
            actions.remove,
            attachment_id=attachment_id,
            reason=form.cleaned_data["reason"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"{row.name} is taken away. It can be put back here."
            return go_on(request, said, "shop:attachment", attachment_id)
    return form_page(
        request,
        "shop/attachments/remove.html",
        form,
        row=row,
        submit_text="Take it away",
        cancel_href=reverse("shop:attachment", args=[attachment_id]),
    )


@require_POST
def put_back(request: HttpRequest, attachment_id: int) -> HttpResponse:
    """Put back what was taken away."""
    actions.put_back(
        attachment_id=attachment_id,
        acting_user=acting_user(request),
        at=timezone.now(),
    )
    return go_on(request, "It is back.", "shop:attachment", attachment_id)


@require_POST
def retry(request: HttpRequest, attachment_id: int) -> HttpResponse:
    """Try again to make the small pictures of a photo."""
    actions.retry_thumbnail(
        attachment_id=attachment_id,
        acting_user=acting_user(request),
        at=timezone.now(),
    )
    return redirect("shop:attachment", attachment_id)


@require_safe
def file(request: HttpRequest, attachment_id: int) -> HttpResponseBase:
    """Hand out the whole file; a document is saved, never shown in the page."""
    found = attachment_file(attachment_id=attachment_id, viewer=viewer_of(request))
    is_shown = found.is_photo and "download" not in request.GET
    return _sent(request, found, disposition="inline" if is_shown else "attachment")


@require_safe
def thumbnail(request: HttpRequest, attachment_id: int) -> HttpResponseBase:
    """Hand out the small picture."""
    found = attachment_thumbnail(attachment_id=attachment_id, viewer=viewer_of(request))
    return _sent(request, found, disposition="inline")


@require_safe
def screen(request: HttpRequest, attachment_id: int) -> HttpResponseBase:
    """Hand out the picture that fits a screen."""
    found = attachment_screen(attachment_id=attachment_id, viewer=viewer_of(request))
    return _sent(request, found, disposition="inline")


def _sent(
    request: HttpRequest, found: AttachmentFile, *, disposition: Disposition
) -> HttpResponseBase:
    headers = headers_of(found, disposition=disposition)
    known = HttpResponse(headers=headers)
    answer = get_conditional_response(request, etag=headers["ETag"], response=known)
    if answer is not known and answer is not None:
        return answer
    return StreamingHttpResponse(
        pieces_of(found.file_name), content_type=found.content_type, headers=headers
    )


def _add(request: HttpRequest, subject: Subject, about_id: int) -> HttpResponse:
    demand_act(request, Act.KEEP_ATTACHMENTS)
    sent = request.FILES.getlist("files")
    if not sent:
        return _page(request, subject, about_id, refused=[("", _NOTHING)])
    refused = []
    for upload in sent[:MOST_FILES]:
        try:
            _attach(request, subject, about_id, upload)
        except NotFound:
            raise
        except Refusal as refusal:
            refused.append((upload.name or "", refusal.message))
    refused.extend(
        (upload.name or "", f"Not more than {MOST_FILES} at once; send it again.")
        for upload in sent[MOST_FILES:]
    )
    added = len(sent) - len(refused)
    if refused:
        return _page(request, subject, about_id, refused=refused, added=added)
    said = "Added." if added == 1 else f"All {added} added."
    return go_on(request, said, "shop:attachments", subject.value, about_id)


def _attach(
    request: HttpRequest,
    subject: Subject,
    about_id: int,
    upload: SentFile,
) -> None:
    actions.attach(
        subject=subject,
        subject_id=about_id,
        content=read_in(upload),
        caption="",
        acting_user=acting_user(request),
        at=timezone.now(),
    )


def _page(
    request: HttpRequest,
    subject: Subject,
    about_id: int,
    *,
    refused: list[tuple[str, str]] | None = None,
    added: int = 0,
) -> HttpResponse:
    found = attachment_panel(
        subject=subject, subject_id=about_id, viewer=viewer_of(request)
    )
    home = _HOMES.get(subject)
    return render(
        request,
        "shop/attachments/list.html",
        {
            **_offered(found),
            "refused": refused or [],
            "added": added,
            "home": reverse(home, args=[about_id]) if home else "",
        },
        status=HTTPStatus.UNPROCESSABLE_ENTITY if refused else HTTPStatus.OK,
    )


def _offered(found: object) -> dict[str, object]:
    return {
        "panel": found,
        "most_bytes": MOST_BYTES,
        "most_mb": MOST_BYTES // MEBIBYTE,
        "most_files": MOST_FILES,
    }


def _subject(about: str) -> Subject:
    try:
        return Subject(about)
    except ValueError:
        raise NotFound(
            "subject-not-found", "Nothing of this kind has photos or documents."
        ) from None


def _home(row: AttachmentRow) -> str:
    return reverse("shop:attachments", args=[row.about, row.about_id])


_ONE = "attachments/<int:attachment_id>/"
_OF = "attachments/<slug:about>/<int:about_id>/"

urlpatterns = [
    path(_ONE, page, name="attachment"),
    path(f"{_ONE}file/", file, name="attachment_file"),
    path(f"{_ONE}thumbnail/", thumbnail, name="attachment_thumbnail"),
    path(f"{_ONE}screen/", screen, name="attachment_screen"),
    path(f"{_ONE}remove/", remove, name="attachment_remove"),
    path(f"{_ONE}put-back/", put_back, name="attachment_put_back"),
    path(f"{_ONE}retry/", retry, name="attachment_retry"),
    path(_OF, listing, name="attachments"),
    path(f"{_OF}panel/", panel, name="attachment_panel"),
]
