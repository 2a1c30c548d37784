import pytest

from shop.domain.roles import Role
from tests.builders import (
    BikeFactory,
    PartFactory,
    ShopSettingsFactory,
    UserFactory,
    WorkOrderFactory,
)
from tests.shop.web.pages import (
    as_role,
    html,
    no_query_while_rendering,
    queries_of,
    signed_in,
    url,
    words,
)

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _shop() -> None:
    ShopSettingsFactory.create()


def test_the_box_stands_in_the_head_of_a_page_and_works_without_a_script() -> None:
    page = html(as_role(Role.TECHNICIAN).get(url("bikes")))
    assert f'action="{url("search")}"' in page
    assert 'name="q"' in page


def test_a_whole_number_opens_its_page_at_once() -> None:
    order = WorkOrderFactory(number=31)
    answer = as_role(Role.TECHNICIAN).get(url("search"), {"q": "wo 31", "jump": "1"})
    assert answer.status_code == 302
    assert answer.headers["Location"] == url("work_order", order.pk)


def test_without_the_wish_to_jump_the_page_shows_what_there_is() -> None:
    WorkOrderFactory(number=31)
    answer = as_role(Role.TECHNICIAN).get(url("search"), {"q": "31"})
    assert answer.status_code == 200
    assert "exactly this" in words(answer)


def test_a_part_of_a_frame_number_lists_the_bike_under_the_box() -> None:
    bike = BikeFactory(maker="Tarnfell", model="Heron", frame_number="HX 350-0417")
    page = html(as_role(Role.STOREKEEPER).get(url("search_hits"), {"q": "3500"}))
    assert f'href="{url("bike", bike.pk)}"' in page
    assert 'role="option"' in page
    assert "<html" not in page


def test_what_was_typed_is_shown_as_text() -> None:
    page = html(as_role(Role.OWNER).get(url("search"), {"q": "<b>heron</b>"}))
    assert "<b>heron" not in page
    assert "&lt;b&gt;heron" in page


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("", "What are you looking for?"),
        ("h", "Too short"),
        ("zzzz", "Nothing holds all of it"),
    ],
)
def test_an_empty_page_says_what_to_do(typed: str, said: str) -> None:
    assert said in words(as_role(Role.OWNER).get(url("search"), {"q": typed}))


def test_more_than_fit_lead_to_the_list_with_the_same_words() -> None:
    for number in range(25):
        PartFactory(number=f"EL-{number}", description="Bulb holder")
    page = html(as_role(Role.STOREKEEPER).get(url("search"), {"q": "bulb holder"}))
    assert f'href="{url("parts")}?q=bulb+holder"' in page


def test_the_same_few_queries_however_much_is_found(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    client = signed_in(UserFactory(role=Role.OWNER.value))
    client.get(url("search"))
    counts = set()
    for _ in range(3):
        WorkOrderFactory(bike=BikeFactory(maker="Tarnfell", model="Heron"))
        counts.add(queries_of(client, url("search") + "?q=heron"))
    assert len(counts) == 1
    with no_query_while_rendering(monkeypatch):
        client.get(url("search"), {"q": "heron"})
