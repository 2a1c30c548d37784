import pytest

from shop.domain.roles import Role
from tests.builders import BikeFactory, CustomerFactory, UserFactory
from tests.shop.api.clients import client_of

pytestmark = pytest.mark.django_db


def test_hits_come_by_kind_with_the_exact_ones_marked() -> None:
    bike = BikeFactory(maker="Tarnfell", model="Heron", frame_number="HX 350-0417")
    client = client_of(UserFactory(role=Role.STOREKEEPER.value))
    found = client.get("/api/search", {"q": "hx3500417"}).json()
    (group,) = found["groups"]
    assert group["kind"] == "bike"
    (hit,) = group["hits"]
    assert (hit["id"], hit["is_exact"]) == (bike.pk, True)


def test_the_store_is_answered_without_customers() -> None:
    CustomerFactory(name="Ada Fenn")
    client = client_of(UserFactory(role=Role.STOREKEEPER.value))
    assert client.get("/api/search", {"q": "fenn"}).json()["groups"] == []


def test_a_question_without_words_is_a_problem_at_its_field() -> None:
    client = client_of(UserFactory())
    answer = client.get("/api/search")
    assert answer.status_code == 400
    assert "q" in answer.content.decode()
