"""What the columns of several tables share: digits, choices, checks."""

from collections.abc import Mapping
from enum import StrEnum
from typing import TypeVar

from django.db import models

E = TypeVar("E", bound=StrEnum)

MONEY_DIGITS = 14
MONEY_PLACES = 4  # the finest minor unit in ISO 4217


def choices(labels: Mapping[E, str]) -> list[tuple[str, str]]:
    """Return an enum's labels as Django's choices."""
    return [(member.value, label) for member, label in labels.items()]


def row_id(number: int) -> int:
    """Return an id that the database can compare; one out of its range becomes 0.

    No row has the id 0, so whoever asks for an impossible one finds nothing.
    """
    return number if 0 < number <= models.BigIntegerField.MAX_BIGINT else 0


def at_least(column: str, lowest: int, *, name: str) -> models.CheckConstraint:
    """Return a check that a column, where filled, is not below `lowest`."""
    return models.CheckConstraint(
        condition=models.Q(**{f"{column}__gte": lowest}), name=name
    )


def one_of(column: str, enum: type[StrEnum], *, name: str) -> models.CheckConstraint:
    """Return a check that a column holds one of the enum's values."""
    return models.CheckConstraint(
        condition=models.Q(**{f"{column}__in": [member.value for member in enum]}),
        name=name,
    )
