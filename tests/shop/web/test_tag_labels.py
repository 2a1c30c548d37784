"""Labels asked for on a page, made by a worker, and handed out."""

import pytest

from shop.domain.roles import Role
from shop.selectors.paper import customer_papers
from tests.builders import StripTagFactory
from tests.shop.paper.reading import text_of
from tests.shop.paper_room import build_now
from tests.shop.web.pages import as_role, html, url, words

pytestmark = pytest.mark.django_db


def test_the_storekeeper_gets_labels_to_print() -> None:
    tag, store = StripTagFactory.create(), as_role(Role.STOREKEEPER)
    here = url("tag_labels", tag.work_order_id)
    assert "No labels have been made yet." in words(store.get(here))
    asked = store.post(
        url("tag_labels_request", tag.work_order_id), {"size": "roll-62x29"}
    )
    assert asked.headers["Location"] == here
    assert "every 1s" in html(store.get(here))
    assert build_now() == 1
    page = html(store.get(here))
    assert "every 1s" not in page
    address = page.split('href="/tag-labels/')[1].split('"')[0]
    answer = store.get(f"/tag-labels/{address}")
    assert "-labels-" in answer.headers["Content-Disposition"]
    assert tag.label in text_of(answer.content)
    # Labels are the shop's own: no private link hands them out.
    assert customer_papers(customer_id=tag.work_order.customer_id) == ()


def test_a_size_that_is_none_is_refused() -> None:
    tag = StripTagFactory.create()
    answer = as_role(Role.TECHNICIAN).post(
        url("tag_labels_request", tag.work_order_id), {"size": "A9"}
    )
    assert answer.status_code == 400
