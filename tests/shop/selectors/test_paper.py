from datetime import timedelta
from pathlib import Path

import pytest
from pytest_django import DjangoAssertNumQueries, Settings

from shop.actions.paper import request_report
from shop.domain.refusals import NotAllowed, NotFound
from shop.models import PaperRequest, User, WorkOrder
from shop.selectors.paper import (
    customer_paper_file,
    customer_papers,
    paper_file,
    paper_panel,
    paper_status,
)
from tests.builders import (
    MORNING,
    CustomerFactory,
    LabourLineFactory,
    StorekeeperFactory,
    UserFactory,
)
from tests.shop.paper_room import build_all, order_with_work

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _drawer(settings: Settings, tmp_path: Path) -> None:
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def order() -> WorkOrder:
    return order_with_work()


@pytest.fixture
def technician() -> User:
    return UserFactory.create(first_name="Bram")


def ask(order: WorkOrder, user: User) -> PaperRequest:
    return request_report(work_order_id=order.pk, acting_user=user, at=MORNING)


def test_the_panel_of_an_order_without_paper_is_empty(
    order: WorkOrder, technician: User
) -> None:
    panel = paper_panel(work_order_id=order.pk, viewer=technician.as_viewer())
    assert (panel.rows, panel.may_request, panel.is_moving) == ((), True, False)


def test_the_panel_moves_until_the_paper_is_ready(
    order: WorkOrder, technician: User
) -> None:
    ask(order, technician)
    viewer = technician.as_viewer()
    panel = paper_panel(work_order_id=order.pk, viewer=viewer)
    assert panel.is_moving
    (row,) = panel.rows
    assert (row.state_label, row.step_words) == ("Waiting", "Waiting for its turn")
    assert row.requested_by_name == "Bram"
    build_all()
    panel = paper_panel(work_order_id=order.pk, viewer=viewer)
    assert not panel.is_moving
    (row,) = panel.rows
    assert row.is_ready
    assert row.page_count >= 1
    assert row.byte_count > 1000


def test_the_panel_shows_the_latest_first_in_two_queries(
    order: WorkOrder,
    technician: User,
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    for hour in range(7):
        LabourLineFactory.create(work_order=order, minutes=hour + 1)
        request_report(
            work_order_id=order.pk,
            acting_user=technician,
            at=MORNING + timedelta(hours=hour),
        )
    viewer = technician.as_viewer()
    with django_assert_num_queries(2):
        panel = paper_panel(work_order_id=order.pk, viewer=viewer)
    hours = [(row.requested_at - MORNING).seconds // 3600 for row in panel.rows]
    assert hours == [6, 5, 4, 3, 2]


def test_what_failed_may_be_retried_by_those_who_may_ask(
    order: WorkOrder, technician: User
) -> None:
    asked = ask(order, technician)
    viewer = technician.as_viewer()
    assert not paper_status(paper_id=asked.pk, viewer=viewer).may_retry
    PaperRequest.objects.update(state="failed", failure_reason="No fonts.")
    row = paper_status(paper_id=asked.pk, viewer=viewer)
    assert (row.may_retry, row.failure_reason) == (True, "No fonts.")


def test_a_file_is_found_only_once_it_is_ready(
    order: WorkOrder, technician: User
) -> None:
    asked = ask(order, technician)
    viewer = technician.as_viewer()
    with pytest.raises(NotFound):
        paper_file(paper_id=asked.pk, viewer=viewer)
    build_all()
    file = paper_file(paper_id=asked.pk, viewer=viewer)
    assert file.download_name == f"{order.label}-report-2026-03-02.pdf"


def test_a_storekeeper_sees_no_customers_paper(
    order: WorkOrder, technician: User
) -> None:
    asked = ask(order, technician)
    build_all()
    viewer = StorekeeperFactory.create().as_viewer()
    with pytest.raises(NotAllowed):
        paper_panel(work_order_id=order.pk, viewer=viewer)
    with pytest.raises(NotAllowed):
        paper_status(paper_id=asked.pk, viewer=viewer)
    with pytest.raises(NotAllowed):
        paper_file(paper_id=asked.pk, viewer=viewer)


def test_what_is_not_there_is_not_found(technician: User) -> None:
    viewer = technician.as_viewer()
    with pytest.raises(NotFound):
        paper_panel(work_order_id=404, viewer=viewer)
    with pytest.raises(NotFound):
        paper_status(paper_id=404, viewer=viewer)
    with pytest.raises(NotFound):
        paper_file(paper_id=404, viewer=viewer)


def test_a_customer_sees_only_finished_paper_of_their_own(
    order: WorkOrder, technician: User
) -> None:
    asked = ask(order, technician)
    assert customer_papers(customer_id=order.customer_id) == ()
    build_all()
    (paper,) = customer_papers(customer_id=order.customer_id)
    assert (paper.id, paper.bike) == (asked.pk, "Tarnfell Heron 350 (1961)")
    stranger = CustomerFactory.create()
    assert customer_papers(customer_id=stranger.pk) == ()
    customer_paper_file(paper_id=asked.pk, customer_id=order.customer_id)
    with pytest.raises(NotFound):
        customer_paper_file(paper_id=asked.pk, customer_id=stranger.pk)


def test_a_customers_list_takes_one_query_however_long(
    order: WorkOrder,
    technician: User,
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    for minutes in (1, 2, 3):
        LabourLineFactory.create(work_order=order, minutes=minutes)
        ask(order, technician)
    build_all()
    with django_assert_num_queries(1):
        assert len(customer_papers(customer_id=order.customer_id)) == 3
