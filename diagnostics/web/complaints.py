"""The complaint: of each consumer, whether it works, is weak or dead."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from diagnostics.actions.findings import record_complaint
from diagnostics.convert import FindingEntry
from diagnostics.selectors.cases import case_head
from diagnostics.selectors.complaints import ComplaintGroup, complaint_groups
from diagnostics.web.taps import fresh_key
from shop.domain.refusals import Refusal
from shop.web.viewer import acting_user, viewer_of

_NOT_TRIED = ""


@require_http_methods(["GET", "HEAD", "POST"])
def take(request: HttpRequest, case_id: int) -> HttpResponse:
    """Take the complaint down in one go."""
    viewer = viewer_of(request)
    groups = complaint_groups(case_id=case_id, viewer=viewer)
    refusal = None
    if request.method == "POST":
        eyes = eyes_from(request, groups)
        try:
            record_complaint(
                case_id=case_id,
                eyes=eyes,
                key=request.POST.get("key", ""),
                acting_user=acting_user(request),
                at=timezone.now(),
            )
        except Refusal as refused:
            refusal = refused
        else:
            messages.success(request, "Complaint taken down. Here is the next test.")
            return redirect("diagnostics:case", case_id=case_id)
    return render(
        request,
        "diagnostics/complaints/take.html",
        {
            "head": case_head(case_id=case_id, viewer=viewer),
            "groups": marked(groups, request),
            "key": request.POST.get("key") or fresh_key(),
            "refusal": refusal,
        },
    )


def eyes_from(
    request: HttpRequest, groups: tuple[ComplaintGroup, ...]
) -> list[FindingEntry]:
    """Return what was said of each consumer; what was not tried says nothing."""
    return [
        FindingEntry(
            tool="eye",
            device=consumer.device,
            rig=consumer.rig,
            reads=request.POST[f"reads-{consumer.device}"],
        )
        for group in groups
        for consumer in group.consumers
        if request.POST.get(f"reads-{consumer.device}", _NOT_TRIED) != _NOT_TRIED
    ]


def marked(
    groups: tuple[ComplaintGroup, ...], request: HttpRequest
) -> list[tuple[ComplaintGroup, list[tuple[str, str, str]]]]:
    """Return each group with device, name and what was said of it so far."""
    return [
        (
            group,
            [
                (
                    consumer.device,
                    consumer.name,
                    request.POST.get(f"reads-{consumer.device}", _NOT_TRIED),
                )
                for consumer in group.consumers
            ],
        )
        for group in groups
    ]
