"""Between a row and the details that can be entered about it."""

from collections.abc import Iterable
from dataclasses import fields
from typing import TYPE_CHECKING, TypeVar

from django.db.models import Model

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

Details = TypeVar("Details", bound="DataclassInstance")


def details_of(row: Model, kind: type[Details]) -> Details:
    """Return the row's own columns as details."""
    return kind(**{field.name: getattr(row, field.name) for field in fields(kind)})


def put(row: Model, details: "DataclassInstance", changed: Iterable[str]) -> None:
    """Write the changed fields, and only these, to the row."""
    names = sorted(changed)
    for name in names:
        setattr(row, name, getattr(details, name))
    row.save(update_fields=names)
