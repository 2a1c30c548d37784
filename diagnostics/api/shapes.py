"""Serializers made from the bench's dataclasses.

As in the shop, what a selector returns is what the API answers; the bench's rows
also hold rigs (mappings), probabilities and pairs.
"""

from dataclasses import fields, is_dataclass
from datetime import datetime
from functools import cache
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from rest_framework import serializers

Shape = type[serializers.Serializer[Any]]

_PLAIN: dict[Any, type[serializers.Field[Any, Any, Any, Any]]] = {
    str: serializers.CharField,
    int: serializers.IntegerField,
    float: serializers.FloatField,
    bool: serializers.BooleanField,
    datetime: serializers.DateTimeField,
}


@cache
def shape(kind: type) -> Shape:
    """Return a serializer with one field for each field of the dataclass.

    Raises
    ------
    TypeError
        Where a field's type has no plain form in JSON.
    """
    hints = get_type_hints(kind)
    members: dict[str, Any] = {
        field.name: _field(hints[field.name]) for field in fields(kind)
    }
    members["__doc__"] = (kind.__doc__ or "").strip().splitlines()[0]
    return type(f"{kind.__name__}Serializer", (serializers.Serializer,), members)


def _field(hint: Any, **options: Any) -> Any:
    origin, parts = get_origin(hint), get_args(hint)
    if origin in {Union, UnionType}:
        (inner,) = [part for part in parts if part is not NoneType]
        return _field(inner, allow_null=True)
    if origin is dict:
        return serializers.DictField(**options)
    if origin is tuple:
        return _sequence(parts)
    if isinstance(hint, type) and is_dataclass(hint):
        return shape(hint)(**options)
    if hint in _PLAIN:
        return _PLAIN[hint](**options)
    raise TypeError(f"{hint!r} has no plain form in JSON")


def _sequence(parts: tuple[Any, ...]) -> Any:
    inner = parts[0]
    if isinstance(inner, type) and is_dataclass(inner):
        return shape(inner)(many=True)
    if Ellipsis in parts:
        return serializers.ListField(child=_field(inner))
    return serializers.ListField(
        child=_field(inner), min_length=len(parts), max_length=len(parts)
    )
