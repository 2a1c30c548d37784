"""What all forms of the shop share: fields that take what people type, and refusals."""

import re
from collections.abc import Callable, Iterable, Mapping
from decimal import Decimal
from typing import Any, ParamSpec, Self, TypeVar

from django import forms
from django.core.exceptions import ValidationError
from django.http import HttpRequest
from typing_extensions import override

from shop.domain.labour import MINUTES_AN_HOUR
from shop.domain.refusals import NotAllowed, NotFound, Refusal

P = ParamSpec("P")
R = TypeVar("R")

_FILL_IN = "Fill this in; it cannot stay empty."
_CHOOSE = "Choose one."
_SHOWN_PLACES = 2


class ShopForm(forms.Form):
    """A form that shows a refusal at the field it belongs to."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for field in self.fields.values():
            is_choice = isinstance(field, forms.ChoiceField)
            field.error_messages["required"] = _CHOOSE if is_choice else _FILL_IN

    @classmethod
    def editing(
        cls, request: HttpRequest, initial: Mapping[str, Any], **offered: Any
    ) -> Self:
        """Return the form over what is stored.

        It remembers what it showed, so that `changes` holds what this user changed
        and nothing that a colleague has changed meanwhile. `offered` is what the
        form's own constructor takes.
        """
        form = cls(posted(request), initial=initial, **offered)
        for field in form.fields.values():
            field.show_hidden_initial = True
        return form

    def changes(self) -> dict[str, Any]:
        """Return the fields that this user changed."""
        return {name: self.cleaned_data[name] for name in self.changed_data}

    def refuse(self, refusal: Refusal) -> None:
        """Show why the shop said no: at its field, or above all of them."""
        known = refusal.field if refusal.field in self.fields else None
        self.add_error(known, refusal.message)

    def carry_out(
        self, action: Callable[P, R], *args: P.args, **kwargs: P.kwargs
    ) -> R | None:
        """Do the action; where it is refused, keep the input and show why.

        Raises
        ------
        NotAllowed, NotFound
            What no field of this form can mend; a page of its own explains.
        """
        try:
            return action(*args, **kwargs)
        except NotAllowed:
            raise
        except NotFound as refusal:
            if refusal.field not in self.fields:
                raise
            self.refuse(refusal)
        except Refusal as refusal:
            self.refuse(refusal)
        return None


class FigureField(forms.DecimalField):
    """A decimal figure: comma or point, with its unit beside it."""

    default_error_messages = {"invalid": "Write a figure, for example 12.50."}

    def __init__(self, *, unit: str = "", **kwargs: Any) -> None:
        self.unit = unit
        kwargs.setdefault(
            "widget", forms.TextInput(attrs={"inputmode": "decimal", "size": 12})
        )
        super().__init__(**kwargs)

    @override
    def to_python(self, value: Any) -> Decimal | None:  # type: ignore[override]  # the stubs take it for an IntegerField
        """Take 1,5 for 1.5; a thousands separator has no place in a form."""
        if isinstance(value, str):
            value = value.replace(" ", "").replace("\u00a0", "").replace(",", ".")
        return super().to_python(value)

    @override
    def prepare_value(self, value: Any) -> Any:
        """Show a stored figure without the zeros that only its column needs."""
        if not isinstance(value, Decimal):
            return value
        whole, _, part = f"{value:f}".partition(".")
        return f"{whole}.{part.rstrip('0').ljust(_SHOWN_PLACES, '0')}"


class DayField(forms.DateField):
    """A day, picked or typed."""

    default_error_messages = {"invalid": "Write the day as 2026-11-25."}

    def __init__(self, **kwargs: Any) -> None:
        widget = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
        kwargs.setdefault("widget", widget)
        super().__init__(**kwargs)


class MinutesField(forms.Field):
    """Time spent, as people say it: 90, 1:30, 1.5 h, 1 h 30 min."""

    _FORMS = (
        re.compile(r"(?P<minutes>\d{1,5})(?:min|m)?"),
        re.compile(r"(?P<hours>\d{1,3}):(?P<minutes>[0-5]\d)h?"),
        re.compile(
            r"(?P<hours>\d{1,3}(?:[.,]\d{1,2})?)h(?:(?P<minutes>\d{1,2})(?:min|m)?)?"
        ),
    )
    widget = forms.TextInput

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault(
            "help_text", "In minutes, or in hours as 1:30, 1.5 h or 1 h 30 min."
        )
        super().__init__(**kwargs)

    @override
    def to_python(self, value: Any) -> int | None:
        """Return whole minutes."""
        text = "".join(str(value or "").lower().split())
        if not text:
            return None
        for pattern in self._FORMS:
            if match := pattern.fullmatch(text):
                parts = match.groupdict()
                hours = Decimal((parts.get("hours") or "0").replace(",", "."))
                return int(hours * MINUTES_AN_HOUR) + int(parts.get("minutes") or 0)
        raise ValidationError(
            "Write the time in minutes, or in hours as 1:30, 1.5 h or 1 h 30 min.",
            code="minutes-unreadable",
        )


class PickField(forms.TypedChoiceField):
    """One of some rows, by number."""

    default_error_messages = {
        "required": _CHOOSE,
        "invalid_choice": "Choose one of those on the list.",
    }

    def __init__(
        self, *, rows: Iterable[tuple[int, str]] = (), empty: str = "", **kwargs: Any
    ) -> None:
        first = [("", empty)] if empty else []
        super().__init__(
            choices=[*first, *((str(pk), name) for pk, name in rows)],
            coerce=int,
            empty_value=None,
            **kwargs,
        )


def count_in(form: forms.Form, currency: str) -> None:
    """Write the currency beside every figure of the form that has no other unit."""
    for field in form.fields.values():
        if isinstance(field, FigureField) and not field.unit:
            field.unit = currency


def text_field(
    label: str,
    *,
    longest: int,
    required: bool = True,
    help_text: str = "",
    **attrs: str,
) -> forms.CharField:
    """Return a field of one line."""
    return forms.CharField(
        label=label,
        max_length=longest,
        required=required,
        help_text=help_text,
        widget=forms.TextInput(attrs=attrs),
    )


def prose_field(
    label: str,
    *,
    longest: int,
    required: bool = True,
    help_text: str = "",
    rows: int = 4,
) -> forms.CharField:
    """Return a field of several lines."""
    return forms.CharField(
        label=label,
        max_length=longest,
        required=required,
        help_text=help_text,
        widget=forms.Textarea(attrs={"rows": rows}),
    )


def posted(request: HttpRequest) -> Any:
    """Return what was sent with a POST, nothing otherwise."""
    return request.POST if request.method == "POST" else None
