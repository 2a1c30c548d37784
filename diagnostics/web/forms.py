"""The bench's forms; what they mean is decided by the actions."""

from typing import Any

from django import forms

from diagnostics.selectors.openings import Opening
from diagnostics.selectors.repairs import RepairChoices
from diagnostics.words import MODE_LABELS
from shop.domain.refusals import Refusal


def show_refusal(form: forms.Form, refusal: Refusal) -> None:
    """Put a refusal at its field, or above the form where it has none there."""
    field = refusal.field if refusal.field in form.fields else None
    form.add_error(field, refusal.message)


class HarnessFileForm(forms.Form):
    """A drawing to be taken into the library."""

    maker = forms.CharField(max_length=80)
    model = forms.CharField(max_length=80)
    years = forms.CharField(
        max_length=40, required=False, help_text="As you say it: 1962 to 1966."
    )
    file = forms.FileField(
        label="Harness file",
        help_text="A TOML file, at most 2 MiB. It is checked line by line; "
        "with anything wrong nothing is saved.",
        allow_empty_file=True,
    )


class OpenCaseForm(forms.Form):
    """A fault hunt to be opened."""

    title = forms.CharField(
        label="What does not work?",
        max_length=120,
        help_text="In a few words: horn dead, tail lamp dim.",
    )
    harness_file_id = forms.TypedChoiceField(
        label="Drawing", coerce=int, widget=forms.RadioSelect
    )

    def __init__(self, *args: Any, opening: Opening, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        drawings = self.fields["harness_file_id"]
        _offer(
            drawings,
            [
                (str(line.harness_file_id), f"{line.name}: {line.title}")
                for line in opening.drawings
            ],
        )
        drawings.initial = opening.best_drawing


class ReasonForm(forms.Form):
    """A reason in a few words."""

    reason = forms.CharField(label="Why?", max_length=400)


class RepairForm(forms.Form):
    """What was done to the loom."""

    key = forms.CharField(widget=forms.HiddenInput)
    done = forms.CharField(
        label="What was done",
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text="What was bad, where, and how it was put right. It goes into the "
        "customer's report.",
    )
    segments = forms.MultipleChoiceField(
        label="Segments put right", required=False, widget=forms.CheckboxSelectMultiple
    )
    another = forms.ChoiceField(label="Another segment", required=False)
    mode = forms.ChoiceField(
        label="How it was bad",
        required=False,
        choices=[("", "not said"), *MODE_LABELS.items()],
    )
    parts = forms.CharField(
        label="Material used",
        max_length=400,
        required=False,
        help_text="Words only; parts that cost something are booked on the work order.",
    )

    def __init__(self, *args: Any, choices: RepairChoices, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        _offer(self.fields["segments"], list(choices.suspected))
        _offer(self.fields["another"], [("", "none"), *choices.others])

    def segments_named(self) -> list[str]:
        """Return every segment that was named; call it on a valid form."""
        another = self.cleaned_data["another"]
        return [*self.cleaned_data["segments"], *([another] if another else [])]


def _offer(field: forms.Field, choices: list[tuple[str, str]]) -> None:
    if not isinstance(field, forms.ChoiceField):
        raise TypeError("only a field of choices can offer some")
    field.choices = choices
