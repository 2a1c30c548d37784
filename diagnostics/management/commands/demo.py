"""Fill the invented workshop, once, and say how to get in."""

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone
from typing_extensions import override

from diagnostics.demo import invented
from diagnostics.demo.filling import Doors, fill, is_filled, note_doors, noted_doors
from diagnostics.demo.paper import build_waiting
from shop.models import User


class Command(BaseCommand):
    """Fill the demo; running it again only says how to get in."""

    help = "Fills an empty database with an invented workshop (only in the demo)."

    @override
    def handle(self, *args: Any, **options: Any) -> None:
        if not settings.DEMO:
            raise CommandError(
                "this is a shop's own service; an invented one is filled only where "
                "LOOM_DEMO=yes"
            )
        if not is_filled():
            if User.objects.exists():
                raise CommandError(
                    "there are people in this database who are not the demo's; "
                    "give the demo a database of its own (LOOM_VAR_DIR)"
                )
            self.stdout.write("loomwright: filling the invented workshop, once")
            self.stdout.flush()
            note_doors(fill(now=timezone.now()))
            build_waiting(clock=timezone.now)
        self.stdout.write(_told(noted_doors()))


def _told(doors: Doors | None) -> str:
    url = settings.PUBLIC_URL
    lines = [
        "",
        f"  The invented workshop of Fennick and Rowe: {url}/",
        "",
        f"  Password of all four: {invented.PASSWORD}",
        f"    {invented.OWNER:<8} owner",
        f"    {invented.FRONT_DESK:<8} front desk",
        f"    {invented.TECHNICIAN:<8} technician",
        f"    {invented.STOREKEEPER:<8} storekeeper",
    ]
    if doors is not None:
        lines += [
            "",
            f"  The open fault hunt (as {invented.TECHNICIAN}): {url}{doors.case_path}",
            f"  {doors.customer}'s private link: {url}{doors.customer_path}",
        ]
    return "\n".join([*lines, ""])
