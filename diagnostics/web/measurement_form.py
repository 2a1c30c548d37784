"""The form of one kind of measurement, made from what the kind asks for."""

from typing import Any

from django import forms

from diagnostics.actions.measurements import MeasurementEntry
from diagnostics.refusals import ReadingsRefused
from diagnostics.selectors.measurements import InputView, KindView
from diagnostics.web.forms import show_refusal
from shop.domain.refusals import Refusal

LONGEST_READING = 24
# More choices than this are a list to open, not buttons to press.
MOST_BUTTONS = 4


class MeasurementForm(forms.Form):
    """Readings by the names of a kind's inputs, and a note."""

    key = forms.CharField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, kind: KindView, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.kind = kind
        for item in kind.inputs:
            self.fields[item.name] = _field(item)
        self.fields["note"] = forms.CharField(max_length=400, required=False)

    def entry(self) -> MeasurementEntry:
        """Return the measurement as it was entered; call it on a valid form."""
        data = self.cleaned_data
        return MeasurementEntry(
            kind=self.kind.name,
            readings={item.name: data[item.name] for item in self.kind.inputs},
            note=data["note"],
        )

    def show(self, refusal: Refusal) -> None:
        """Put each problem at the reading that it blames."""
        if not isinstance(refusal, ReadingsRefused):
            show_refusal(self, refusal)
            return
        for problem in refusal.problems:
            field = problem.field if problem.field in self.fields else None
            self.add_error(field, problem.message)


def _field(item: InputView) -> forms.Field:
    if item.choices:
        few = len(item.choices) <= MOST_BUTTONS
        pairs = [(choice.name, choice.label) for choice in item.choices]
        return forms.ChoiceField(
            label=item.label,
            help_text=item.help,
            required=item.required,
            choices=pairs if few else [("", "choose"), *pairs],
            widget=forms.RadioSelect if few else forms.Select,
        )
    # A telephone's decimal keys have no letters for “open”.
    keys = {} if item.takes_open else {"inputmode": "decimal"}
    field = forms.CharField(
        label=item.label,
        help_text=_help(item),
        required=item.required,
        max_length=LONGEST_READING,
        widget=forms.TextInput(attrs={**keys, "autocomplete": "off"}),
    )
    field.unit = item.unit  # type: ignore[attr-defined]  # drawn by the field template
    return field


def _help(item: InputView) -> str:
    if not item.takes_open:
        return item.help
    return f"{item.help} Write “open” where the meter shows no path.".strip()
