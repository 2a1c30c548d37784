"""Days on which somebody is away."""

from django.http import HttpRequest, HttpResponse
from django.urls import path, reverse
from django.utils import timezone
from django.views.decorators.http import require_POST

from shop.actions import absences as actions
from shop.domain.absences import AbsenceDetails
from shop.domain.roles import Act
from shop.selectors.working_hours import working_hours_of
from shop.web.answers import form_page, go_on, take
from shop.web.forms import DayField, ShopForm, posted, text_field
from shop.web.viewer import acting_user, demand_act


class AbsenceForm(ShopForm):
    """Whole days away, the first and the last among them."""

    first_on = DayField(label="First day away")
    last_on = DayField(label="Last day away")
    reason = text_field(
        "Reason",
        longest=120,
        required=False,
        help_text="Everybody in the shop can read it; “away” is enough.",
    )


@take
def add(request: HttpRequest, technician_id: int) -> HttpResponse:
    """Enter days away."""
    viewer = demand_act(request, Act.KEEP_WORKING_HOURS)
    row = working_hours_of(technician_id=technician_id, viewer=viewer)
    form = AbsenceForm(posted(request))
    if form.is_valid():
        done = form.carry_out(
            actions.add_absence,
            technician_id=technician_id,
            details=AbsenceDetails(**form.cleaned_data),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"Days away of {row.technician_name} entered."
            return go_on(request, said, "shop:working_hours")
    return form_page(
        request,
        "shop/working_hours/form.html",
        form,
        heading=f"{row.technician_name} is away",
        submit_text="Enter the days",
        cancel_href=reverse("shop:working_hours"),
    )


@require_POST
def withdraw(request: HttpRequest, absence_id: int) -> HttpResponse:
    """Take days away back."""
    actions.withdraw_absence(
        absence_id=absence_id, acting_user=acting_user(request), at=timezone.now()
    )
    return go_on(request, "The days away are taken back.", "shop:working_hours")


urlpatterns = [
    path("working-hours/<int:technician_id>/away/", add, name="absence_add"),
    path("absences/<int:absence_id>/withdraw/", withdraw, name="absence_withdraw"),
]
