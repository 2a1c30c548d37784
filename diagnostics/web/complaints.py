"""The complaint: of each consumer, whether it works, is weak or dead."""

from collections import Counter
from collections.abc import Iterator

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from diagnostics.actions.findings import record_complaint
from diagnostics.convert import FindingEntry
from diagnostics.selectors.cases import case_head
from diagnostics.selectors.complaints import (
    ComplaintGroup,
    ConsumerLine,
    complaint_groups,
)
from diagnostics.web.taps import fresh_key
from shop.domain.refusals import Refusal
from shop.domain.roles import Act
from shop.web.viewer import acting_user, demand_act

_NOT_TRIED = ""


@require_http_methods(["GET", "HEAD", "POST"])
def take(request: HttpRequest, case_id: int) -> HttpResponse:
    """Take the complaint down in one go."""
    viewer = demand_act(request, Act.FIND_FAULTS)
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
            reads=request.POST[field],
        )
        for _, consumers in fields_of(groups)
        for field, consumer in consumers
        if request.POST.get(field, _NOT_TRIED) != _NOT_TRIED
    ]


def marked(
    groups: tuple[ComplaintGroup, ...], request: HttpRequest
) -> list[tuple[ComplaintGroup, list[tuple[str, str, str]]]]:
    """Return each group with field, name and what was said of it so far."""
    return [
        (
            group,
            [
                (field, consumer.name, request.POST.get(field, _NOT_TRIED))
                for field, consumer in consumers
            ],
        )
        for group, consumers in fields_of(groups)
    ]


def fields_of(
    groups: tuple[ComplaintGroup, ...],
) -> Iterator[tuple[ComplaintGroup, list[tuple[str, ConsumerLine]]]]:
    """Yield each group with its consumers by form field.

    A lamp that is tried in two rigs has two fields: it may work in one only.
    """
    times: Counter[str] = Counter()
    for group in groups:
        named = []
        for consumer in group.consumers:
            times[consumer.device] += 1
            again = times[consumer.device]
            suffix = f"-{again}" if again > 1 else ""
            named.append((f"reads-{consumer.device}{suffix}", consumer))
        yield group, named
