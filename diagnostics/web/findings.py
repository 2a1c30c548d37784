"""Findings in the browser: the advised test by one tap, any other freely."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from diagnostics.actions.findings import record_finding
from diagnostics.cautions import cautions_for
from diagnostics.lifecycle import Origin
from diagnostics.selectors.cases import case_head
from diagnostics.selectors.rigs import rig_choices
from diagnostics.web.finding_form import TOOL_TABS, FindingForm
from diagnostics.web.forms import show_refusal
from diagnostics.web.taps import bench_answer, entry_from, fresh_key
from shop.domain.refusals import NotAllowed, NotFound, Refusal
from shop.domain.roles import Act
from shop.web.viewer import acting_user, demand_act


@require_POST
def advised(request: HttpRequest, case_id: int) -> HttpResponse:
    """Take the reading of an advised test."""
    demand_act(request, Act.FIND_FAULTS)
    try:
        finding = record_finding(
            case_id=case_id,
            entry=entry_from(request),
            origin=Origin.ADVISED,
            key=request.POST.get("key", ""),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
    except (NotAllowed, NotFound):
        raise
    except Refusal as refusal:
        return bench_answer(request, case_id=case_id, refusal=refusal)
    return bench_answer(request, case_id=case_id, taken=finding.pk)


@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest, case_id: int) -> HttpResponse:
    """Take any other finding."""
    viewer = demand_act(request, Act.FIND_FAULTS)
    head = case_head(case_id=case_id, viewer=viewer)
    tool = request.GET.get("tool", "test-lamp")
    form = FindingForm(
        request.POST or None,
        tool=tool,
        choices=rig_choices(case_id=case_id, viewer=viewer),
        initial={"key": fresh_key()},
    )
    if request.method == "POST" and form.is_valid():
        try:
            finding = record_finding(
                case_id=case_id,
                entry=form.entry(),
                origin=Origin.FREE,
                key=form.cleaned_data["key"],
                acting_user=acting_user(request),
                at=timezone.now(),
            )
        except Refusal as refusal:
            show_refusal(form, refusal)
        else:
            messages.success(request, f"Finding {finding.sequence} is taken down.")
            return redirect("diagnostics:case", case_id=case_id)
    return render(
        request,
        "diagnostics/findings/new.html",
        {
            "head": head,
            "form": form,
            "tabs": TOOL_TABS,
            "cautions": cautions_for(
                tool=form.tool, rig={}, device="", earth=head.earth
            ),
        },
    )
