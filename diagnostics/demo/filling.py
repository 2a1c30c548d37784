"""The invented workshop, filled once, and how to sign in to it."""

import json
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path

from django.conf import settings
from django.db import transaction
from django.urls import reverse

from diagnostics.demo import invented
from diagnostics.demo.attachments import fill_attachments
from diagnostics.demo.bike_histories import fill_bike_histories
from diagnostics.demo.calendar import Calendar
from diagnostics.demo.clocks import fill_clocks
from diagnostics.demo.hunts import fill_hunts
from diagnostics.demo.jobs import fill_jobs
from diagnostics.demo.plans import fill_plans
from diagnostics.demo.shop_floor import open_shop
from diagnostics.demo.strip_tags import fill_strip_tags
from shop.actions.links import make_link
from shop.models import User


@dataclass(frozen=True, slots=True, kw_only=True)
class Doors:
    """The ways into the filled demo; paths, since the port may change."""

    customer: str
    customer_path: str
    case_path: str


def is_filled() -> bool:
    """Say whether the invented workshop is there already."""
    return User.objects.filter(username=invented.OWNER).exists()


@transaction.atomic
def fill(*, now: datetime) -> Doors:
    """Fill an empty database with the invented workshop, or not at all."""
    floor = open_shop(calendar=Calendar(now))
    fill_jobs(floor)
    fill_strip_tags(floor)
    case_id = fill_hunts(floor)
    fill_bike_histories(floor)
    fill_clocks(floor)
    fill_attachments(floor)
    fill_plans(floor)
    link = make_link(
        customer_id=floor.customers[invented.LENNART],
        acting_user=floor.front_desk,
        at=floor.calendar.at(1, 9),
    )
    return Doors(
        customer=invented.LENNART,
        customer_path=reverse("shop:link_enter", args=[link.secret]),
        case_path=reverse("diagnostics:case", args=[case_id]),
    )


def note_doors(doors: Doors) -> None:
    """Keep the doors beside the database: of a link only a hash is stored in it."""
    _note().write_text(json.dumps(asdict(doors)), encoding="utf-8")


def noted_doors() -> Doors | None:
    """Return the doors noted when the demo was filled, if the note is there."""
    if not _note().exists():
        return None
    return Doors(**json.loads(_note().read_text(encoding="utf-8")))


def _note() -> Path:
    return settings.VAR_DIR / "sign-in.json"
