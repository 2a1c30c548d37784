"""A repair recorded."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from diagnostics.actions.repairs import RepairEntry, record_repair
from diagnostics.cautions import repair_cautions
from diagnostics.selectors.repairs import repair_choices
from diagnostics.web.forms import RepairForm, show_refusal
from diagnostics.web.taps import fresh_key
from shop.domain.refusals import Refusal
from shop.domain.roles import Act
from shop.web.viewer import acting_user, demand_act


@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest, case_id: int) -> HttpResponse:
    """Record what was done to the loom."""
    viewer = demand_act(request, Act.FIND_FAULTS)
    choices = repair_choices(case_id=case_id, viewer=viewer)
    form = RepairForm(
        request.POST or None,
        choices=choices,
        initial={
            "key": fresh_key(),
            "segments": choices.leading_segments,
            "mode": choices.leading_mode,
        },
    )
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        entry = RepairEntry(
            done=data["done"],
            segments=form.segments_named(),
            mode=data["mode"],
            parts=data["parts"],
        )
        try:
            record_repair(
                case_id=case_id,
                entry=entry,
                key=data["key"],
                acting_user=acting_user(request),
                at=timezone.now(),
            )
        except Refusal as refusal:
            show_refusal(form, refusal)
        else:
            messages.success(
                request,
                "Repair recorded. Now take the failed tests again as its proof.",
            )
            return redirect("diagnostics:case", case_id=case_id)
    return render(
        request,
        "diagnostics/repairs/new.html",
        {
            "head": choices.head,
            "form": form,
            "cautions": repair_cautions(choices.head.earth),
        },
    )
