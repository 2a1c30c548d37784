from io import StringIO
from pathlib import Path

import pytest
from django.core.management import call_command
from django.utils import timezone
from pytest_django import Settings

from shop.actions.paper import request_report
from shop.models import PaperRequest
from tests.builders import UserFactory
from tests.shop.paper_room import order_with_work


@pytest.mark.django_db
def test_all_waiting_paper_is_made_and_counted(
    settings: Settings, tmp_path: Path
) -> None:
    settings.MEDIA_ROOT = tmp_path
    order, user = order_with_work(), UserFactory.create()
    request_report(work_order_id=order.pk, acting_user=user, at=timezone.now())
    said = StringIO()
    call_command("make_paper", stdout=said)
    assert said.getvalue().strip() == "papers taken up: 1, left by dead workers: 0"
    assert PaperRequest.objects.get().state == "ready"
