"""Labels are ordered once for the same words, and opened by any phone signed in."""

import pytest
from django.conf import settings

from shop.actions.tag_labels import request_labels
from shop.domain.refusals import NotFound, Refusal
from shop.domain.strip_tags import tag_code
from shop.models import PaperRequest
from tests.builders import (
    MORNING,
    StorekeeperFactory,
    StripTagFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db


def test_the_same_labels_are_one_paper_and_hold_the_address_of_each_tag() -> None:
    tag, keeper = StripTagFactory(), StorekeeperFactory()
    paper, again = (
        request_labels(
            work_order_id=tag.work_order_id,
            tag_ids=[],
            size="A4",
            acting_user=keeper,
            at=MORNING,
        )
        for _ in range(2)
    )
    assert PaperRequest.objects.get() == paper == again
    (sheet,) = paper.content["sheets"]
    assert sheet[0]["url"] == f"{settings.PUBLIC_URL}/t/{tag_code(tag.number)}/"
    assert sheet[0]["label"] == tag.label


def test_labels_name_no_customer() -> None:
    tag = StripTagFactory()
    paper = request_labels(
        work_order_id=tag.work_order_id,
        tag_ids=[tag.pk],
        size="roll-62x29",
        acting_user=StorekeeperFactory(),
        at=MORNING,
    )
    assert tag.work_order.customer.name not in str(paper.content)


def test_tags_of_another_bike_and_sizes_that_are_none_are_refused() -> None:
    tag, other, keeper = StripTagFactory(), StripTagFactory(), StorekeeperFactory()
    with pytest.raises(NotFound):
        request_labels(
            work_order_id=tag.work_order_id,
            tag_ids=[other.pk],
            size="A4",
            acting_user=keeper,
            at=MORNING,
        )
    with pytest.raises(Refusal) as refused:
        request_labels(
            work_order_id=tag.work_order_id,
            tag_ids=[],
            size="A9",
            acting_user=keeper,
            at=MORNING,
        )
    assert refused.value.field == "size"


def test_nothing_tagged_is_nothing_to_print() -> None:
    with pytest.raises(Refusal) as refused:
        request_labels(
            work_order_id=WorkOrderFactory().pk,
            tag_ids=[],
            size="A4",
            acting_user=StorekeeperFactory(),
            at=MORNING,
        )
    assert refused.value.code == "nothing-to-print"
