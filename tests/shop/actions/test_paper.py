from datetime import timedelta
from pathlib import Path

import pytest
from django.conf import LazySettings

from shop.actions import paper, paper_building
from shop.domain.refusals import IllegalMove, NotAllowed, NotFound, Refusal
from shop.models import HistoryEntry, PaperRequest, WorkOrder
from tests.builders import (
    MORNING,
    FrontDeskFactory,
    LabourLineFactory,
    ShopSettingsFactory,
    StorekeeperFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db
LATER = MORNING + timedelta(hours=1)


@pytest.fixture(autouse=True)
def _drawer(settings: LazySettings, tmp_path: Path) -> None:
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def order() -> WorkOrder:
    ShopSettingsFactory.create()
    line = LabourLineFactory.create()
    return line.work_order


def build_all() -> int:
    built = 0
    while paper_building.build_next(acting_user=None, at=LATER, clock=lambda: LATER):
        built += 1
    return built


def test_a_report_is_asked_for_and_built(order: WorkOrder) -> None:
    asked = paper.request_report(
        work_order_id=order.pk, acting_user=UserFactory.create(), at=MORNING
    )
    assert asked.state == "queued"
    assert build_all() == 1
    asked.refresh_from_db()
    assert asked.state == "ready"
    assert asked.page_count >= 1
    assert asked.ready_at == LATER
