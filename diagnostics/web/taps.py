"""What a tap on the bench page carries, and what is shown after it."""

import json
import uuid
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from diagnostics.convert import FindingEntry
from diagnostics.selectors.cases import CasePage, case_page
from shop.domain.refusals import Refusal
from shop.web.viewer import viewer_of


def fresh_key() -> str:
    """Return the key of a form: the same form sent twice is one entry."""
    return uuid.uuid4().hex


def entry_from(request: HttpRequest) -> FindingEntry:
    """Return the finding that a form with its rig in JSON carries.

    Raises
    ------
    Refusal
        The rig is no JSON object: the page was tampered with or cut off.
    """
    post = request.POST
    return FindingEntry(
        tool=post.get("tool", ""),
        reads=post.get("reads", ""),
        rig=_rig(post.get("rig", "{}")),
        probe=post.get("probe", ""),
        clip=post.get("clip", ""),
        device=post.get("device", ""),
        wire=post.get("wire", ""),
        moving=post.get("moving") == "yes",
    )


def bench_context(
    page: CasePage, *, taken: int | None = None, refusal: Refusal | None = None
) -> dict[str, Any]:
    """Return what the bench is drawn from; `taken` is offered for undoing."""
    made = [
        finding
        for finding in page.findings
        if finding.finding_id == taken and finding.void is None
    ]
    return {
        "page": page,
        "head": page.head,
        "key": fresh_key(),
        "taken": made[0] if made and page.head.is_unfinished else None,
        "refusal": refusal,
    }


def bench_answer(
    request: HttpRequest,
    *,
    case_id: int,
    taken: int | None = None,
    refusal: Refusal | None = None,
) -> HttpResponse:
    """Answer a tap: the bench anew for htmx, else the way back to its page."""
    if request.headers.get("HX-Request") == "true":
        page = case_page(case_id=case_id, viewer=viewer_of(request))
        context = bench_context(page, taken=taken, refusal=refusal)
        return render(request, "diagnostics/cases/_bench.html", context)
    if refusal is not None:
        messages.error(request, refusal.message)
    query = f"?taken={taken}" if taken else ""
    return redirect(reverse("diagnostics:case", args=[case_id]) + query)


def _rig(text: str) -> dict[str, Any]:
    try:
        rig = json.loads(text)
    except (ValueError, RecursionError):
        rig = None
    if not isinstance(rig, dict):
        raise Refusal(
            "rig-unreadable",
            "The positions of the switches did not arrive; load the page again.",
            "rig",
        )
    return rig
