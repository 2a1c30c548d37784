from datetime import timedelta

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.actions.links import make_link, revoke_link
from shop.domain.refusals import NotAllowed, NotFound
from shop.models import Customer
from shop.selectors.links import LinkClosed, customer_of_link, guest, link_panel
from tests.builders import (
    MORNING,
    CustomerFactory,
    FrontDeskFactory,
    ShopSettingsFactory,
    StorekeeperFactory,
    UserFactory,
)

pytestmark = pytest.mark.django_db
YEAR = timedelta(days=365)


@pytest.fixture
def customer() -> Customer:
    return CustomerFactory.create(name="Ottilie Marsh")


def test_the_panel_says_how_each_link_stands(customer: Customer) -> None:
    desk = FrontDeskFactory.create()
    kept, gone, _ = (
        make_link(customer_id=customer.pk, acting_user=desk, at=at)
        for at in (MORNING, MORNING, MORNING - YEAR)
    )
    revoke_link(link_id=gone.link_id, acting_user=desk, at=MORNING)
    viewer = desk.as_viewer()
    panel = link_panel(customer_id=customer.pk, viewer=viewer, at=MORNING)
    assert panel.may_share
    assert [row.state for row in panel.rows] == ["Revoked", "Open", "Expired"]
    assert [row.id for row in panel.rows if row.opens] == [kept.link_id]
    assert customer_of_link(link_id=kept.link_id, viewer=viewer) == customer.pk


def test_the_panel_takes_two_queries_however_many_links(
    customer: Customer, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    desk = FrontDeskFactory.create()
    for _ in range(12):
        make_link(customer_id=customer.pk, acting_user=desk, at=MORNING)
    viewer = desk.as_viewer()
    with django_assert_num_queries(2):
        panel = link_panel(customer_id=customer.pk, viewer=viewer, at=MORNING)
    assert len(panel.rows) == 10


def test_a_technician_sees_links_but_may_not_share(customer: Customer) -> None:
    viewer = UserFactory.create().as_viewer()
    panel = link_panel(customer_id=customer.pk, viewer=viewer, at=MORNING)
    assert not panel.may_share
    keeper = StorekeeperFactory.create().as_viewer()
    with pytest.raises(NotAllowed):
        link_panel(customer_id=customer.pk, viewer=keeper, at=MORNING)


def test_what_is_not_there_is_not_found() -> None:
    viewer = FrontDeskFactory.create().as_viewer()
    with pytest.raises(NotFound):
        link_panel(customer_id=404, viewer=viewer, at=MORNING)
    with pytest.raises(NotFound):
        customer_of_link(link_id=404, viewer=viewer)


def test_a_guest_is_the_customer_behind_the_link(customer: Customer) -> None:
    ShopSettingsFactory.create()
    desk = FrontDeskFactory.create()
    made = make_link(customer_id=customer.pk, acting_user=desk, at=MORNING)
    found = guest(link_id=made.link_id, at=MORNING)
    assert (found.customer_id, found.customer_name) == (customer.pk, "Ottilie Marsh")
    assert found.shop_name == "The Lamp Room"


def test_a_guest_is_shown_out_when_the_link_closes(customer: Customer) -> None:
    desk = FrontDeskFactory.create()
    made = make_link(customer_id=customer.pk, acting_user=desk, at=MORNING)
    with pytest.raises(LinkClosed):
        guest(link_id=made.link_id, at=made.expires_at)
    revoke_link(link_id=made.link_id, acting_user=desk, at=MORNING)
    with pytest.raises(LinkClosed):
        guest(link_id=made.link_id, at=MORNING)


def test_nobody_is_a_guest_without_a_link() -> None:
    for link_id in (None, 0, 404):
        with pytest.raises(NotFound):
            guest(link_id=link_id, at=MORNING)
