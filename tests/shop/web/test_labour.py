import pytest
from django.test import Client

from shop.domain.roles import Role
from shop.models import LabourLine, TaxRate
from tests.builders import (
    LabourLineFactory,
    ShopSettingsFactory,
    TaxRateFactory,
    UserFactory,
    WorkOrderFactory,
)
from tests.shop.web.pages import (
    as_role,
    error_at,
    html,
    no_query_while_rendering,
    signed_in,
    url,
    words,
)

pytestmark = pytest.mark.django_db

WORK = {
    "description": "Traced the feed",
    "kind": "fault_finding",
    "minutes": "1:30",
    "billing": "billable",
    "reason": "from the job card",
}


@pytest.fixture
def bench() -> Client:
    return signed_in(UserFactory.create(first_name="Tobias", username="tobias"))


def test_a_technician_books_own_hours(bench: Client) -> None:
    ShopSettingsFactory.create()
    order = WorkOrderFactory.create()
    answer = bench.post(
        url("labour_add", order.pk), {**WORK, "done_on": "2026-03-02"}, follow=True
    )
    line = LabourLine.objects.get()
    assert (line.minutes, line.technician.username) == (90, "tobias")
    assert "1 h 30 min booked: Traced the feed" in words(answer)


def test_a_technician_is_asked_for_neither_rate_nor_name(bench: Client) -> None:
    page = html(bench.get(url("labour_add", WorkOrderFactory.create().pk)))
    assert 'name="hourly_rate"' not in page
    assert 'name="technician_id"' not in page


def test_the_desk_books_for_others_at_a_rate_and_a_tax_of_choice() -> None:
    ShopSettingsFactory.create()
    tax = TaxRateFactory.create(label="Reduced", percent=5)
    worker = UserFactory.create()
    order = WorkOrderFactory.create()
    as_role(Role.FRONT_DESK).post(
        url("labour_add", order.pk),
        {
            **WORK,
            "done_on": "2026-03-02",
            "technician_id": str(worker.pk),
            "hourly_rate": "48,50",
            "tax_rate_id": str(tax.pk),
        },
    )
    line = LabourLine.objects.get()
    assert line.technician_id == worker.pk
    assert str(line.hourly_rate) == "48.5000"
    assert line.tax_percent == TaxRate.objects.get(pk=tax.pk).percent


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"minutes": "soon"}, "minutes"),
        ({"minutes": "0"}, "minutes"),
        ({"minutes": "1500"}, "minutes"),
        ({"minutes": ""}, "minutes"),
        ({"done_on": "2999-01-01"}, "done_on"),
        ({"done_on": "yesterday"}, "done_on"),
        ({"kind": "magic"}, "kind"),
        ({"description": ""}, "description"),
        ({"tax_rate_id": "77"}, "tax_rate_id"),
        ({"reason": " "}, "reason"),
        ({"billing": "barter"}, "billing"),
        ({"task_id": "77"}, "task_id"),
    ],
)
def test_bad_input_stands_at_its_field_and_books_nothing(
    bench: Client, given: dict[str, str], field: str
) -> None:
    order = WorkOrderFactory.create()
    answer = bench.post(
        url("labour_add", order.pk), {**WORK, "done_on": "2026-03-02", **given}
    )
    assert answer.status_code == 422
    assert error_at(answer, field)
    assert not LabourLine.objects.exists()


def test_a_line_is_struck_out_with_a_reason(bench: Client) -> None:
    me = UserFactory.create()
    line = LabourLineFactory.create(technician=me)
    client = signed_in(me)
    empty = client.post(url("labour_void", line.pk), {"reason": "  "})
    assert empty.status_code == 422
    assert error_at(empty, "reason")
    done = client.post(
        url("labour_void", line.pk), {"reason": "Wrong bike"}, follow=True
    )
    line.refresh_from_db()
    assert line.void_reason == "Wrong bike"
    assert "It stays on the ticket as void." in words(done)
    again = client.post(url("labour_void", line.pk), {"reason": "Again"})
    assert again.status_code == 422
    assert "struck out already" in words(again)


def test_another_s_hours_are_not_for_a_technician_to_strike_out(
    bench: Client,
) -> None:
    line = LabourLineFactory.create()
    answer = bench.post(url("labour_void", line.pk), {"reason": "Not mine"})
    assert answer.status_code == 403
    line.refresh_from_db()
    assert not line.is_void


def test_the_templates_ask_the_database_nothing(
    bench: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    order = WorkOrderFactory.create()
    with no_query_while_rendering(monkeypatch):
        assert bench.get(url("labour_add", order.pk)).status_code == 200
