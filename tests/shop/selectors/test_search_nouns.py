import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from shop.domain.roles import Act, Role, may
from shop.selectors.search import search, searched_nouns
from shop.selectors.search_nouns import joined
from tests.builders import BikeFactory, UserFactory, WorkOrderFactory

pytestmark = pytest.mark.django_db


def test_every_noun_asks_a_role_and_leads_to_a_page() -> None:
    assert len(searched_nouns()) >= 5
    for noun in searched_nouns():
        assert any(may(role, noun.act) for role in Role), noun.kind
        assert reverse(noun.url_name, args=[1])
        assert not noun.list_url_name or reverse(noun.list_url_name)


def test_every_noun_is_asked_once_however_much_is_found() -> None:
    viewer = UserFactory(role=Role.OWNER.value).as_viewer()
    seen = [noun for noun in searched_nouns() if viewer.may(noun.act)]
    for _ in range(3):
        WorkOrderFactory(bike=BikeFactory(maker="Tarnfell", model="Heron"))
        with CaptureQueriesContext(connection) as asked:
            found = search(text="heron", viewer=viewer)
        assert found.groups
        # One more for each word: which orders' bikes and customers hold it.
        assert len(asked) == len(seen) + 1


def test_who_may_see_no_customers_is_not_asked_about_their_columns() -> None:
    viewer = UserFactory(role=Role.STOREKEEPER.value).as_viewer()
    with CaptureQueriesContext(connection) as asked:
        search(text="fenn", viewer=viewer)
    assert not any(
        'shop_customer"."name" LIKE' in query["sql"] for query in asked.captured_queries
    )
    assert not viewer.may(Act.SEE_CUSTOMERS)


def test_a_detail_is_one_short_line() -> None:
    assert joined(("a\nb", "", "c")) == "a b · c"
    assert len(joined(("x" * 500,))) == 140
