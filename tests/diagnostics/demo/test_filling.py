"""The invented workshop as a newcomer finds it."""

from datetime import UTC, datetime

import pytest

from diagnostics.demo import invented
from diagnostics.demo.filling import fill, is_filled
from diagnostics.demo.paper import build_waiting
from diagnostics.lifecycle import CaseState
from diagnostics.models import Belief, Case, Finding
from shop.domain.lifecycle import State
from shop.domain.paper import PaperState
from shop.domain.roles import Role
from shop.models import Bike, Customer, PaperRequest, User, WorkOrder

NOW = datetime(2026, 4, 15, 8, 30, tzinfo=UTC)

pytestmark = pytest.mark.django_db


def test_the_workshop_has_people_customers_bikes_and_work_in_every_state() -> None:
    fill(now=NOW)
    assert is_filled()
    assert {Role(user.role) for user in User.objects.all()} == set(Role)
    assert (Customer.objects.count(), Bike.objects.count()) == (4, 5)
    states = {State(order.state) for order in WorkOrder.objects.all()}
    assert states == {
        State.BOOKED_IN,
        State.AWAITING_APPROVAL,
        State.ON_THE_BENCH,
        State.WAITING,
        State.READY,
        State.CLOSED,
    }


def test_one_hunt_is_proven_and_found_what_was_hidden_and_one_is_open() -> None:
    fill(now=NOW)
    proven = Case.objects.get(state=CaseState.PROVEN)
    hidden = invented.BIKES[invented.REPAIRED].fault
    assert proven.repairs.get().segments == [hidden[0]]
    before = Belief.objects.filter(case=proven, finding__repairs_before=0)
    last = before.order_by("-step")[0]
    assert last.isolated is not None
    assert last.isolated["probability"] >= 0.95
    assert last.isolated["segments"] == [hidden[0]]
    assert last.faults[0]["faults"] == [list(hidden[:2])]
    open_case = Case.objects.get(state=CaseState.OPEN)
    assert Finding.objects.filter(case=open_case).count() > 1


def test_its_report_is_built() -> None:
    fill(now=NOW)
    build_waiting(clock=lambda: NOW)
    paper = PaperRequest.objects.get()
    assert PaperState(paper.state) is PaperState.READY


def test_nothing_in_it_lies_in_the_future() -> None:
    fill(now=NOW)
    assert all(row.taken_at < NOW for row in Finding.objects.all())
    assert all(row.state_since < NOW for row in WorkOrder.objects.all())
