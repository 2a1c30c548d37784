"""Serializers made from the frozen dataclasses that selectors return.

What a selector returns is what the API answers: the shape is read off the
dataclass, so that the two cannot drift apart.
"""

from dataclasses import fields, is_dataclass
from datetime import date, datetime
from decimal import Decimal
from functools import cache
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from rest_framework import serializers

Shape = type[serializers.Serializer[Any]]

_PLAIN: dict[Any, type[serializers.Field[Any, Any, Any, Any]]] = {
    str: serializers.CharField,
    int: serializers.IntegerField,
    bool: serializers.BooleanField,
    date: serializers.DateField,
    datetime: serializers.DateTimeField,
}


def shape(kind: type) -> Shape:
    """Return a serializer with one field for each field of the dataclass.

    Raises
    ------
    TypeError
        Where a field's type has no plain form in JSON.
    """
    return _shape(kind)


def page_shape(kind: type) -> Shape:
    """Return the serializer of a window on a list of these dataclasses."""
    return _page_shape(kind)


@cache
def _shape(kind: type) -> Shape:
    if not is_dataclass(kind):
        raise TypeError(f"{kind!r} is not a dataclass")
    hints = get_type_hints(kind)
    members: dict[str, Any] = {
        field.name: _field(hints[field.name]) for field in fields(kind)
    }
    members["__doc__"] = (kind.__doc__ or "").strip().splitlines()[0]
    return type(f"{kind.__name__}Serializer", (serializers.Serializer,), members)


@cache
def _page_shape(kind: type) -> Shape:
    members: dict[str, Any] = {
        "count": serializers.IntegerField(help_text="How many there are in all."),
        "next": serializers.CharField(
            allow_null=True, help_text="Where the next rows are."
        ),
        "previous": serializers.CharField(
            allow_null=True, help_text="Where the rows before are."
        ),
        "results": shape(kind)(many=True),
        "__doc__": f"A window on a list: {kind.__name__}.",
    }
    name = f"{kind.__name__}PageSerializer"
    return type(name, (serializers.Serializer,), members)


def _field(hint: Any, **options: Any) -> Any:
    origin = get_origin(hint)
    if origin in {Union, UnionType}:
        (inner,) = [part for part in get_args(hint) if part is not NoneType]
        return _field(inner, allow_null=True)
    if origin is tuple:
        return _sequence(get_args(hint))
    if is_dataclass(hint) and isinstance(hint, type):
        return shape(hint)(**options)
    if hint is Decimal:
        return serializers.DecimalField(max_digits=None, decimal_places=None, **options)
    if hint in _PLAIN:
        return _PLAIN[hint](**options)
    raise TypeError(f"{hint!r} has no plain form in JSON")


def _sequence(parts: tuple[Any, ...]) -> Any:
    if len(parts) == 2 and parts[1] is Ellipsis:  # noqa: PLR2004 - one type and an ellipsis
        inner = parts[0]
        if is_dataclass(inner) and isinstance(inner, type):
            return shape(inner)(many=True)
        return serializers.ListField(child=_field(inner))
    if len(set(parts)) == 1:
        return serializers.ListField(
            child=_field(parts[0]), min_length=len(parts), max_length=len(parts)
        )
    raise TypeError(f"a tuple of {parts!r} has no plain form in JSON")
