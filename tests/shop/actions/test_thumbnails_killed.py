"""A worker is killed while it draws, and the broker is down: no photo is lost."""

import time
from pathlib import Path

from tests.journeys.service import free_port
from tests.shop.processes import kill, workshop

WORK_AND_DIE = """
import time, django
django.setup()
from django.utils import timezone
from shop.actions import thumbnails
from tests.builders import BikeFactory, OwnerFactory
from tests.pictures import jpeg
from tests.shop.attached import attached
bike, owner = BikeFactory.create(), OwnerFactory.create()
for width in (60, 70):
    attached(
        subject_id=bike.pk, content=jpeg(width), acting_user=owner, at=timezone.now()
    )
def draw(jpeg, side):
    print("drawing", flush=True)
    time.sleep(60)
thumbnails.smaller = draw
thumbnails.make_next(acting_user=None, at=timezone.now())
"""
GO_ON = """
import django
django.setup()
from datetime import timedelta
from django.core.files.storage import default_storage
from django.utils import timezone
from shop.actions.thumbnails import make_next, sweep
from shop.models import Attachment
def states():
    rows = Attachment.objects.order_by("pk")
    return list(rows.values_list("thumbnail_state", "attempts", "crashes"))
print(states())
later = timezone.now() + timedelta(minutes=2)  # the lease of the dead is over
print(sweep(acting_user=None, at=later), sweep(acting_user=None, at=later))
while make_next(acting_user=None, at=later):
    pass
print(states())
names = [n for r in Attachment.objects.all() for n in (r.thumbnail_name, r.screen_name)]
print(len(set(names)), all(default_storage.exists(name) for name in names))
"""


def test_what_a_killed_worker_had_in_hand_is_made_by_the_next(tmp_path: Path) -> None:
    nobody = f"redis://127.0.0.1:{free_port()}/0"
    shop = workshop(tmp_path, LOOM_BROKER_URL=nobody)
    with shop.process("worker", "-c", WORK_AND_DIE) as worker:
        while "drawing" not in shop.logs():
            time.sleep(0.05)
            assert worker.poll() is None, shop.logs()
        kill(worker)
    assert shop.python("-c", GO_ON).splitlines()[:4] == [
        "[('making', 1, 0), ('queued', 0, 0)]",
        "1 0",
        "[('ready', 2, 1), ('ready', 1, 0)]",
        "4 True",
    ]
