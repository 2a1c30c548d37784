"""The shop's own settings: one row."""

from decimal import Decimal

from django.db import models
from typing_extensions import override

from shop.domain.clocks import (
    MOST_MINIMUM_MINUTES,
    STEPS,
    TIME_ROUNDING_LABELS,
    TimeRounding,
)
from shop.domain.pricing import TaxRounding
from shop.models.columns import MONEY_DIGITS, MONEY_PLACES, at_least, choices, one_of
from shop.models.tax_rates import TaxRate

THE_ONE = 1


class ShopSettingsQuerySet(models.QuerySet["ShopSettings"]):
    """The one row, or its defaults."""

    def current(self) -> "ShopSettings":
        """Return the settings; an unsaved row of defaults until somebody saves."""
        row = self.select_related("default_tax_rate").filter(pk=THE_ONE).first()
        return row or ShopSettings(pk=THE_ONE)


class ShopSettings(models.Model):
    """Name and address of the shop, its money, tax and time zone."""

    id = models.PositiveSmallIntegerField(primary_key=True, default=THE_ONE)
    name = models.CharField(max_length=120, default="The workshop")
    address = models.TextField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField(blank=True)
    tax_number = models.CharField(max_length=40, blank=True)
    currency = models.CharField(
        max_length=3, default="EUR", help_text="Three letters, ISO 4217."
    )
    minor_digits = models.PositiveSmallIntegerField(
        default=2, help_text="Decimal places of the currency, 0 to 4."
    )
    tax_rounding = models.CharField(
        max_length=10,
        choices=[
            (TaxRounding.PER_RATE.value, "Once per rate, on the net sum"),
            (TaxRounding.PER_LINE.value, "Line by line"),
        ],
        default=TaxRounding.PER_RATE.value,
    )
    default_tax_rate = models.ForeignKey(
        TaxRate, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    hourly_rate = models.DecimalField(
        max_digits=MONEY_DIGITS, decimal_places=MONEY_PLACES, default=Decimal(0)
    )
    time_zone = models.CharField(max_length=60, default="UTC")
    invoice_notes = models.TextField(blank=True)
    time_rounding = models.CharField(
        max_length=10,
        choices=choices(TIME_ROUNDING_LABELS),
        default=TimeRounding.NONE.value,
    )
    time_step_minutes = models.PositiveSmallIntegerField(default=6)
    time_minimum_minutes = models.PositiveSmallIntegerField(default=0)
    clock_limit_hours = models.PositiveSmallIntegerField(
        default=10, help_text="A clock that runs longer counts as forgotten."
    )

    objects = models.Manager.from_queryset(ShopSettingsQuerySet)()

    class Meta:
        verbose_name_plural = "shop settings"
        constraints = [
            models.CheckConstraint(
                condition=models.Q(pk=THE_ONE), name="shop_settings_one_row"
            ),
            models.CheckConstraint(
                condition=models.Q(minor_digits__lte=4),
                name="shop_settings_minor_digits",
            ),
            one_of("tax_rounding", TaxRounding, name="shop_settings_tax_rounding"),
            at_least("hourly_rate", 0, name="shop_settings_rate_not_negative"),
            one_of("time_rounding", TimeRounding, name="shop_settings_time_rounding"),
            models.CheckConstraint(
                condition=models.Q(time_step_minutes__in=STEPS),
                name="shop_settings_time_step",
            ),
            models.CheckConstraint(
                condition=models.Q(time_minimum_minutes__lte=MOST_MINIMUM_MINUTES),
                name="shop_settings_time_minimum",
            ),
            models.CheckConstraint(
                condition=models.Q(clock_limit_hours__gte=1, clock_limit_hours__lte=24),
                name="shop_settings_clock_limit",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show the shop's name."""
        return self.name
