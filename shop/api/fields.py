"""Fields that the bodies of several requests share: what need not be said."""

from typing import Any

from rest_framework import serializers

from shop.models.columns import MONEY_DIGITS, MONEY_PLACES


def optional_text(longest: int, help_text: str = "") -> Any:
    """Return a field for words that may be left out or empty."""
    return serializers.CharField(
        max_length=longest, required=False, allow_blank=True, help_text=help_text
    )


def optional_amount(help_text: str) -> Any:
    """Return a field for an amount of money that may be left out or null."""
    return serializers.DecimalField(
        max_digits=MONEY_DIGITS,
        decimal_places=MONEY_PLACES,
        required=False,
        allow_null=True,
        help_text=help_text,
    )
