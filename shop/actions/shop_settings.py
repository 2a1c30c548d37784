"""The shop's own settings changed."""

from collections.abc import Mapping
from datetime import datetime
from zoneinfo import available_timezones

from django.db import transaction

from shop.actions._details import details_of, put
from shop.actions._rows import locked, tax_for_line
from shop.actions.history import Happening, record
from shop.domain.entries import altered, differences
from shop.domain.refusals import Refusal
from shop.domain.roles import Act
from shop.domain.shop_settings import ShopDetails
from shop.models import LabourLine, PartLine, ShopSettings, User
from shop.models.shop_settings import THE_ONE

_FIXED_ONCE_PRICED = ("currency", "minor_digits")


@transaction.atomic
def edit_shop_settings(
    *, changes: Mapping[str, object], acting_user: User, at: datetime
) -> ShopSettings:
    """Change the shop's settings; `changes` is by field.

    Raises
    ------
    Refusal
        A value is wrong, or the currency would change under lines already priced.
    """
    acting_user.demand(Act.KEEP_SHOP_SETTINGS)
    ShopSettings.objects.get_or_create(pk=THE_ONE)
    row = locked(
        ShopSettings.objects.all(), pk=THE_ONE, field="id", name="row of settings"
    )
    old = details_of(row, ShopDetails)
    new = altered(old, changes).checked()
    found = differences(old, new)
    if not found:
        return row
    _check(new, found)
    put(row, new, found)
    record(
        Happening(
            verb="shop_settings.edited",
            kind="shop_settings",
            subject_id=row.pk,
            summary="Settings of the shop changed",
            changes=found,
        ),
        acting_user=acting_user,
        at=at,
    )
    return row


def _check(new: ShopDetails, found: Mapping[str, tuple[str, str]]) -> None:
    if new.time_zone not in available_timezones():
        raise Refusal(
            "time-zone-unknown",
            f"“{new.time_zone}” is no time zone; write it as in Europe/London.",
            "time_zone",
        )
    if "default_tax_rate_id" in found and new.default_tax_rate_id is not None:
        tax_for_line(new.default_tax_rate_id)
    fixed = [name for name in _FIXED_ONCE_PRICED if name in found]
    if fixed and _anything_priced():
        raise Refusal(
            "currency-fixed",
            "Lines have been priced already, so the currency and its decimal places "
            "can no longer change.",
            fixed[0],
        )


def _anything_priced() -> bool:
    return LabourLine.objects.exists() or PartLine.objects.exists()
