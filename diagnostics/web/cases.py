"""Cases in the browser: the board, the bench page, opening and ending."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from diagnostics.actions.cases import give_up_case, open_case, prove_case, reopen_case
from diagnostics.engine import loom_of, make_ready
from diagnostics.selectors.cases import (
    case_head,
    case_page,
    finished_cases,
    unfinished_cases,
)
from diagnostics.selectors.openings import opening_page
from diagnostics.web.forms import OpenCaseForm, ReasonForm, show_refusal
from diagnostics.web.taps import bench_context
from shop.domain.refusals import Refusal
from shop.domain.roles import Act
from shop.web.lists import pager, window_of
from shop.web.viewer import acting_user, demand_act, viewer_of


@require_safe
def board(request: HttpRequest) -> HttpResponse:
    """List the fault hunts, those that want something first."""
    viewer = viewer_of(request)
    finished = finished_cases(viewer=viewer, window=window_of(request))
    return render(
        request,
        "diagnostics/cases/list.html",
        {
            "unfinished": unfinished_cases(viewer=viewer),
            "finished": finished.rows,
            "pager": pager(finished),
        },
    )


@require_safe
def bench(request: HttpRequest, case_id: int) -> HttpResponse:
    """Show the bench page of a case."""
    page = case_page(case_id=case_id, viewer=viewer_of(request))
    if page.head.is_open:
        make_ready(loom_of(page.head.harness_sha256), page.standing)
    taken = request.GET.get("taken", "")
    context = bench_context(page, taken=int(taken) if taken.isdecimal() else None)
    return render(request, "diagnostics/cases/page.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def open_on(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Open a fault hunt on a work order."""
    opening = opening_page(work_order_id=work_order_id, viewer=viewer_of(request))
    form = OpenCaseForm(request.POST or None, opening=opening)
    if request.method == "POST" and form.is_valid():
        try:
            case = open_case(
                work_order_id=work_order_id,
                harness_file_id=form.cleaned_data["harness_file_id"],
                title=form.cleaned_data["title"],
                acting_user=acting_user(request),
                at=timezone.now(),
            )
        except Refusal as refusal:
            show_refusal(form, refusal)
        else:
            return redirect("diagnostics:complaint", case_id=case.pk)
    return render(
        request, "diagnostics/cases/open.html", {"opening": opening, "form": form}
    )


@require_POST
def prove(request: HttpRequest, case_id: int) -> HttpResponse:
    """Close a case whose failed tests all read well again."""
    prove_case(case_id=case_id, acting_user=acting_user(request), at=timezone.now())
    messages.success(request, "Repair proven. The case is closed.")
    return redirect("diagnostics:case", case_id=case_id)


@require_http_methods(["GET", "HEAD", "POST"])
def give_up(request: HttpRequest, case_id: int) -> HttpResponse:
    """End a hunt without a repair, with the reason."""
    viewer = demand_act(request, Act.FIND_FAULTS)
    form = ReasonForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        give_up_case(
            case_id=case_id,
            reason=form.cleaned_data["reason"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        messages.info(request, "The case was given up. It can be reopened.")
        return redirect("diagnostics:case", case_id=case_id)
    head = case_head(case_id=case_id, viewer=viewer)
    context = {
        "head": head,
        "form": form,
        "heading": "Give the case up",
        "text": "The findings stay on record, and the case can be reopened.",
        "button": "Give up",
    }
    return render(request, "diagnostics/cases/reason.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def reopen(request: HttpRequest, case_id: int) -> HttpResponse:
    """Go on looking, with the reason."""
    viewer = demand_act(request, Act.FIND_FAULTS)
    form = ReasonForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        reopen_case(
            case_id=case_id,
            reason=form.cleaned_data["reason"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        messages.info(request, "The case is open again.")
        return redirect("diagnostics:case", case_id=case_id)
    head = case_head(case_id=case_id, viewer=viewer)
    context = {
        "head": head,
        "form": form,
        "heading": "Reopen the case",
        "text": "What was read since the last repair counts on; what was read before "
        "it describes the loom as it was, and stays on record.",
        "button": "Reopen",
    }
    return render(request, "diagnostics/cases/reason.html", context)
