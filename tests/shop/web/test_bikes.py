import pytest
from django.test import Client

from shop.domain.roles import Role
from shop.models import Bike
from tests.builders import BikeFactory, CustomerFactory, WorkOrderFactory
from tests.shop.web.pages import (
    as_role,
    error_at,
    no_query_while_rendering,
    queries_of,
    url,
    words,
)

pytestmark = pytest.mark.django_db

HERON = {
    "maker": "Tarnfell",
    "model": "Heron 350",
    "year": "1961",
    "frame_number": "H35/★ 77-B",
    "system_volts": "6",
    "earth": "positive",
}


@pytest.fixture
def desk() -> Client:
    return as_role(Role.FRONT_DESK)


def test_a_new_bike_asks_first_whose_it_is(desk: Client) -> None:
    owner = CustomerFactory.create(name="Ottilie Marsh")
    page = desk.get(url("bike_add"))
    assert "Whose bike is it?" in words(page)
    assert f"?owner={owner.pk}" in page.content.decode()


def test_numbers_are_kept_as_they_are_stamped(desk: Client) -> None:
    owner = CustomerFactory.create()
    answer = desk.post(f"{url('bike_add')}?owner={owner.pk}", HERON)
    bike = Bike.objects.get()
    assert answer.headers["Location"] == url("bike", bike.pk)
    assert (bike.frame_number, bike.system_volts, bike.earth, bike.owner_id) == (
        "H35/★ 77-B",
        6,
        "positive",
        owner.pk,
    )


def test_nobody_can_leave_voltage_or_polarity_to_chance(desk: Client) -> None:
    owner = CustomerFactory.create()
    given = {**HERON, "system_volts": "", "earth": "", "year": "1492"}
    answer = desk.post(f"{url('bike_add')}?owner={owner.pk}", given)
    assert answer.status_code == 422
    assert error_at(answer, "system_volts") == "Choose one."
    assert error_at(answer, "earth") == "Choose one."
    assert "1885" in error_at(answer, "year")
    assert not Bike.objects.exists()


def test_a_bike_passed_on_leaves_old_work_orders_with_the_old_owner(
    desk: Client,
) -> None:
    order = WorkOrderFactory.create()
    new = CustomerFactory.create(name="Ada Fenn")
    answer = desk.post(
        url("bike_pass_on", order.bike_id), {"owner_id": str(new.pk)}, follow=True
    )
    assert "belongs to Ada Fenn now" in words(answer)
    order.refresh_from_db()
    assert order.bike.owner_id == new.pk
    assert order.customer_id != new.pk


def test_a_bike_cannot_be_passed_on_to_somebody_not_on_the_list(desk: Client) -> None:
    bike = BikeFactory.create()
    answer = desk.post(url("bike_pass_on", bike.pk), {"owner_id": "999"})
    assert answer.status_code == 422
    assert error_at(answer, "owner_id") == "Choose one of those on the list."


def test_the_storekeeper_sees_bikes_but_not_who_owns_them() -> None:
    bike = BikeFactory.create()
    store = as_role(Role.STOREKEEPER)
    for page in (url("bikes"), url("bike", bike.pk)):
        assert bike.frame_number in words(store.get(page))
        assert bike.owner.name not in words(store.get(page))


def test_edit_saves_only_what_changed(desk: Client) -> None:
    bike = BikeFactory.create(maker="Tarnfel", notes="Left switch is not original.")
    form = desk.get(url("bike_edit", bike.pk)).context["form"]
    given = {name: form[name].value() or "" for name in form.fields}
    seen = {f"initial-{name}": value for name, value in given.items()}
    answer = desk.post(
        url("bike_edit", bike.pk), {**given, **seen, "maker": "Tarnfell"}, follow=True
    )
    assert "Details of Tarnfell" in words(answer)
    bike.refresh_from_db()
    assert (bike.maker, bike.notes) == ("Tarnfell", "Left switch is not original.")


def test_a_long_list_takes_no_more_queries_than_a_short_one(desk: Client) -> None:
    BikeFactory.create_batch(2)
    few = queries_of(desk, url("bikes"))
    BikeFactory.create_batch(30)
    assert queries_of(desk, url("bikes")) == few


def test_the_templates_ask_the_database_nothing(
    desk: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    order = WorkOrderFactory.create()
    with no_query_while_rendering(monkeypatch):
        desk.get(url("bikes"))
        desk.get(url("bike", order.bike_id))
        desk.get(url("bike_edit", order.bike_id))
        desk.get(url("bike_add"))
        desk.get(url("bike_pass_on", order.bike_id))
