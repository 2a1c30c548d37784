"""Tax rates taken into use and retired; a rate is never edited."""

from datetime import datetime
from decimal import Decimal

from django.db import IntegrityError, transaction

from shop.actions._rows import locked
from shop.actions.history import Happening, record
from shop.domain.entries import TextRule
from shop.domain.money import HUNDRED, ZERO, fits_minor_unit
from shop.domain.refusals import Refusal
from shop.domain.roles import Act
from shop.models import Part, ShopSettings, TaxRate, User

LABEL = TextRule("label", "The name of the rate", 60, required=True)
PERCENT_PLACES = 3


@transaction.atomic
def add_tax_rate(
    *, label: str, percent: Decimal, acting_user: User, at: datetime
) -> TaxRate:
    """Take a tax rate into use.

    Raises
    ------
    Refusal
        The percentage is none, or the name is taken.
    """
    acting_user.demand(Act.KEEP_SHOP_SETTINGS)
    tidy = LABEL.clean(label)
    if not (percent.is_finite() and ZERO <= percent <= HUNDRED) or not fits_minor_unit(
        percent, minor_digits=PERCENT_PLACES
    ):
        raise Refusal(
            "percent-out-of-range",
            "A tax rate lies between 0 and 100 percent, with 3 decimal places at most.",
            "percent",
        )
    try:
        with transaction.atomic():
            rate = TaxRate.objects.create(label=tidy, percent=percent)
    except IntegrityError as error:
        raise Refusal(
            "label-taken",
            f"There is a rate called “{tidy}” already, perhaps a retired one.",
            "label",
        ) from error
    record(
        Happening(
            verb="tax_rate.added",
            kind="tax_rate",
            subject_id=rate.pk,
            summary=f"Tax rate {rate} taken into use",
        ),
        acting_user=acting_user,
        at=at,
    )
    return rate


@transaction.atomic
def retire_tax_rate(*, tax_rate_id: int, acting_user: User, at: datetime) -> TaxRate:
    """Retire a rate; lines that bear it keep it.

    Raises
    ------
    Refusal
        It is the shop's default, or parts on the list still bear it.
    """
    acting_user.demand(Act.KEEP_SHOP_SETTINGS)
    rate = locked(
        TaxRate.objects.all(), pk=tax_rate_id, field="tax_rate_id", name="tax rate"
    )
    if rate.is_retired:
        return rate
    if ShopSettings.objects.current().default_tax_rate_id == rate.pk:
        raise Refusal(
            "tax-rate-in-use", "This is the shop's default rate; choose another first."
        )
    bearing = Part.objects.in_use().filter(tax_rate=rate).count()
    if bearing:
        raise Refusal(
            "tax-rate-in-use",
            f"{bearing} parts on the list bear this rate; give them another first.",
        )
    rate.is_retired = True
    rate.save(update_fields=["is_retired"])
    record(
        Happening(
            verb="tax_rate.retired",
            kind="tax_rate",
            subject_id=rate.pk,
            summary=f"Tax rate {rate} retired",
        ),
        acting_user=acting_user,
        at=at,
    )
    return rate
