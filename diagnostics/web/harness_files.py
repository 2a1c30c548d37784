"""The library of drawings in the browser."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from diagnostics.actions.harness_files import upload_harness
from diagnostics.refusals import HarnessFileRefused, ProblemLine
from diagnostics.selectors.harness_files import harness_file_page
from diagnostics.selectors.harness_files import library as library_of
from diagnostics.web.forms import HarnessFileForm, show_refusal
from shop.domain.refusals import Refusal
from shop.domain.roles import Act
from shop.web.viewer import acting_user, demand_act, viewer_of


@require_safe
def library(request: HttpRequest) -> HttpResponse:
    """List the drawings."""
    words = request.GET.get("q", "").strip()
    shelf = library_of(viewer=viewer_of(request), words=words)
    return render(request, "diagnostics/harness_files/list.html", {"library": shelf})


@require_safe
def page(request: HttpRequest, harness_file_id: int) -> HttpResponse:
    """Show one drawing."""
    found = harness_file_page(
        harness_file_id=harness_file_id, viewer=viewer_of(request)
    )
    return render(request, "diagnostics/harness_files/page.html", {"page": found})


@require_http_methods(["GET", "HEAD", "POST"])
def add(request: HttpRequest) -> HttpResponse:
    """Take a drawing into the library, or list what is wrong with it."""
    demand_act(request, Act.KEEP_LOOM_LIBRARY)
    form = HarnessFileForm(request.POST or None, request.FILES or None)
    problems: tuple[ProblemLine, ...] = ()
    if request.method == "POST" and form.is_valid():
        try:
            file = upload_harness(
                maker=form.cleaned_data["maker"],
                model=form.cleaned_data["model"],
                years=form.cleaned_data["years"],
                content=form.cleaned_data["file"].read(),
                acting_user=acting_user(request),
                at=timezone.now(),
            )
        except HarnessFileRefused as refusal:
            problems = refusal.problems
            show_refusal(form, refusal)
        except Refusal as refusal:
            show_refusal(form, refusal)
        else:
            messages.success(request, f"{file} is in the library.")
            return redirect("diagnostics:harness_file", harness_file_id=file.pk)
    return render(
        request,
        "diagnostics/harness_files/add.html",
        {"form": form, "problems": problems},
    )
