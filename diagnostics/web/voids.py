"""A finding withdrawn, at once or with a reason, and put back."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from diagnostics.actions.findings import put_back_finding
from diagnostics.actions.voids import void_finding
from diagnostics.selectors.cases import finding_page
from diagnostics.web.forms import ReasonForm, show_refusal
from diagnostics.web.taps import bench_answer, fresh_key
from shop.domain.refusals import Refusal
from shop.domain.roles import Act
from shop.web.viewer import acting_user, demand_act

AT_ONCE = "Wrong tap, taken back at once."


@require_http_methods(["GET", "HEAD", "POST"])
def void(request: HttpRequest, finding_id: int) -> HttpResponse:
    """Withdraw a finding with a reason."""
    viewer = demand_act(request, Act.FIND_FAULTS)
    page = finding_page(finding_id=finding_id, viewer=viewer)
    form = ReasonForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            void_finding(
                finding_id=finding_id,
                reason=form.cleaned_data["reason"],
                acting_user=acting_user(request),
                at=timezone.now(),
            )
        except Refusal as refusal:
            show_refusal(form, refusal)
        else:
            messages.info(
                request,
                f"Finding {page.finding.sequence} is void. It stays on record and can "
                "be put back.",
            )
            return redirect("diagnostics:case", case_id=page.head.case_id)
    context = {"page": page, "head": page.head, "form": form}
    return render(request, "diagnostics/findings/void.html", context)


@require_POST
def undo(request: HttpRequest, finding_id: int) -> HttpResponse:
    """Take back the finding that was made a moment ago."""
    taken_back = void_finding(
        finding_id=finding_id,
        reason=AT_ONCE,
        acting_user=acting_user(request),
        at=timezone.now(),
    )
    return bench_answer(request, case_id=taken_back.finding.case_id)


@require_POST
def put_back(request: HttpRequest, finding_id: int) -> HttpResponse:
    """Enter a voided finding once more."""
    finding = put_back_finding(
        finding_id=finding_id,
        key=request.POST.get("key") or fresh_key(),
        acting_user=acting_user(request),
        at=timezone.now(),
    )
    return bench_answer(request, case_id=finding.case_id, taken=finding.pk)
