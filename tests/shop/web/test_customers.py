import pytest
from django.test import Client

from shop.domain.roles import Role
from shop.models import Customer, HistoryEntry
from tests.builders import BikeFactory, CustomerFactory, WorkOrderFactory
from tests.shop.web.pages import (
    as_role,
    error_at,
    html,
    no_query_while_rendering,
    queries_of,
    url,
    words,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def desk() -> Client:
    return as_role(Role.FRONT_DESK)


def test_an_empty_list_says_what_to_do_next(desk: Client) -> None:
    page = words(desk.get(url("customers")))
    assert "No customers yet" in page
    assert "Add the first customer" in page


def test_a_new_customer_is_written_down_and_the_bike_comes_next(desk: Client) -> None:
    answer = desk.post(
        url("customer_add"),
        {"name": " Ottilie Marsh ", "phone": "0555 010", "email": "o@marsh.example"},
        follow=True,
    )
    customer = Customer.objects.get()
    assert customer.name == "Ottilie Marsh"
    assert answer.redirect_chain == [(url("customer", customer.pk), 302)]
    assert "Ottilie Marsh is a customer now. Add the bike next." in words(answer)
    assert HistoryEntry.objects.get().verb == "customer.added"


def test_bad_input_is_shown_at_its_field_and_nothing_is_saved(desk: Client) -> None:
    answer = desk.post(
        url("customer_add"),
        {"name": "", "email": "nobody", "notes": "Rings after six."},
    )
    assert answer.status_code == 422
    assert error_at(answer, "name") == "Fill this in; it cannot stay empty."
    assert "valid email" in error_at(answer, "email")
    assert "Rings after six." in html(answer)
    assert "Nothing was saved yet." in words(answer)
    assert not Customer.objects.exists()


def test_what_only_the_action_refuses_also_stands_at_the_field(desk: Client) -> None:
    answer = desk.post(url("customer_add"), {"name": "Bell\x07 Ringer"})
    assert answer.status_code == 422
    assert error_at(answer, "name")
    assert not Customer.objects.exists()


def test_two_people_who_edit_at_once_do_not_undo_each_other(desk: Client) -> None:
    customer = CustomerFactory.create(name="Ada Fenn", phone="1", email="a@f.example")
    opened = {
        "name": "Ada Fenn",
        "phone": "1",
        "email": "a@f.example",
        "address": customer.address,
        "notes": "",
        "tax_number": "",
    }
    seen = {f"initial-{name}": value for name, value in opened.items()}
    desk.post(url("customer_edit", customer.pk), {**opened, **seen, "phone": "2"})
    # The second one opened the form before the first one saved.
    desk.post(url("customer_edit", customer.pk), {**opened, **seen, "notes": "Kind."})
    customer.refresh_from_db()
    assert (customer.phone, customer.notes) == ("2", "Kind.")


def test_the_form_remembers_what_it_showed(desk: Client) -> None:
    customer = CustomerFactory.create(name="Ada Fenn")
    page = html(desk.get(url("customer_edit", customer.pk)))
    assert 'name="initial-name" value="Ada Fenn"' in page


def test_a_customer_s_page_shows_bikes_and_work_orders(desk: Client) -> None:
    order = WorkOrderFactory.create()
    page = words(desk.get(url("customer", order.customer_id)))
    assert order.bike.frame_number in page
    assert order.label in page


def test_the_search_finds_by_any_word_and_says_when_it_finds_none(
    desk: Client,
) -> None:
    CustomerFactory.create(name="Ottilie Marsh", phone="0555 777")
    CustomerFactory.create(name="Ada Fenn", phone="0555 888")
    found = words(desk.get(url("customers"), {"q": "marsh 777"}))
    assert "Ottilie Marsh" in found
    assert "Ada Fenn" not in found
    assert "No customer holds “quince”." in words(
        desk.get(url("customers"), {"q": "quince"})
    )


def test_text_of_a_customer_is_never_markup(desk: Client) -> None:
    CustomerFactory.create(name="<script>alert(1)</script>")
    page = html(desk.get(url("customers")))
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert" in page


def test_a_long_list_takes_no_more_queries_than_a_short_one(desk: Client) -> None:
    CustomerFactory.create_batch(2)
    few = queries_of(desk, url("customers"))
    CustomerFactory.create_batch(30)
    assert queries_of(desk, url("customers")) == few
    assert queries_of(desk, url("customers") + "?page=2") == few


def test_a_customer_with_many_bikes_takes_no_more_queries(desk: Client) -> None:
    owner = CustomerFactory.create()
    BikeFactory.create(owner=owner)
    few = queries_of(desk, url("customer", owner.pk))
    for bike in BikeFactory.create_batch(5, owner=owner):
        WorkOrderFactory.create(bike=bike)
    assert queries_of(desk, url("customer", owner.pk)) == few


def test_the_templates_ask_the_database_nothing(
    desk: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    order = WorkOrderFactory.create()
    with no_query_while_rendering(monkeypatch):
        desk.get(url("customers"))
        desk.get(url("customer", order.customer_id))
        desk.get(url("customer_edit", order.customer_id))
