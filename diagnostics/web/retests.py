"""The failed tests taken again, as proof of the repair."""

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_POST

from diagnostics.actions.findings import record_retest
from diagnostics.selectors.cases import finding_page
from diagnostics.web.taps import bench_answer
from shop.domain.refusals import NotAllowed, Refusal
from shop.domain.roles import Act
from shop.web.viewer import acting_user, demand_act


@require_POST
def retest(request: HttpRequest, finding_id: int) -> HttpResponse:
    """Take one failed finding again."""
    viewer = demand_act(request, Act.FIND_FAULTS)
    page = finding_page(finding_id=finding_id, viewer=viewer)
    try:
        again = record_retest(
            finding_id=finding_id,
            reads=request.POST.get("reads", ""),
            key=request.POST.get("key", ""),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
    except NotAllowed:
        raise
    except Refusal as refusal:
        return bench_answer(request, case_id=page.head.case_id, refusal=refusal)
    return bench_answer(request, case_id=page.head.case_id, taken=again.pk)
