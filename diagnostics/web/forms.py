"""The bench's forms; what they mean is decided by the actions."""

from collections.abc import Mapping
from typing import Any

from django import forms

from diagnostics.convert import EYE_READS, LAMP_READS, FindingEntry
from diagnostics.models import TOOLS
from diagnostics.selectors.openings import Opening
from diagnostics.selectors.repairs import RepairChoices
from diagnostics.selectors.rigs import Named, RigChoices
from diagnostics.words import MODE_LABELS, READING_LABELS, TOOL_LABELS, UNIT_SIGNS
from shop.domain.refusals import Refusal

_SWITCH = "switch-"
_OTHER_RIG = ("engine", "battery-lead")


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


class FindingForm(forms.Form):
    """Any finding, with every switch of the loom to be set."""

    key = forms.CharField(widget=forms.HiddenInput)

    def __init__(
        self,
        *args: Any,
        tool: str,
        choices: RigChoices,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.tool = tool if tool in TOOLS else TOOLS[0]
        self.choices = choices
        self._add_where()
        self._add_reading()
        self._add_rig()
        self.fields["note"] = forms.CharField(max_length=400, required=False)

    @property
    def switch_fields(self) -> list[forms.BoundField]:
        """The fields that set the rig, in their order."""
        names = [_SWITCH + switch.device for switch in self.choices.switches]
        return [self[name] for name in (*names, *_OTHER_RIG) if name in self.fields]

    @property
    def test_fields(self) -> list[forms.BoundField]:
        """The fields of the test itself, in their order."""
        names = ("device", "probe", "clip", "reads", "note")
        return [self[name] for name in names if name in self.fields]

    @property
    def has_more_rig(self) -> bool:
        """Whether anything is unplugged or taken out."""
        return bool(self["unplugged"].value() or self["removed"].value())

    def entry(self) -> FindingEntry:
        """Return the finding as it was entered; call it on a valid form."""
        data = self.cleaned_data
        return FindingEntry(
            tool=self.tool,
            reads=data["reads"],
            rig=self._rig(),
            probe=data.get("probe", "").strip(),
            clip=data.get("clip", "").strip(),
            device=data.get("device", ""),
            note=data["note"],
        )

    def _add_where(self) -> None:
        if self.tool == "eye":
            self.fields["device"] = forms.ChoiceField(
                label="Device",
                choices=[("", "choose"), *_pairs(self.choices.watchable)],
            )
            return
        spots = {"list": "terminals", "autocomplete": "off", "autocapitalize": "off"}
        self.fields["probe"] = forms.CharField(
            label="Probe on",
            max_length=120,
            widget=forms.TextInput(attrs=spots),
            help_text="Device and pin: horn.1",
        )
        self.fields["clip"] = forms.CharField(
            label="Clip on",
            max_length=120,
            required=False,
            widget=forms.TextInput(attrs=spots),
            help_text=f"Empty: {self.choices.first_body}",
        )

    def _add_reading(self) -> None:
        words = {"test-lamp": LAMP_READS, "eye": EYE_READS}.get(self.tool)
        if words is not None:
            self.fields["reads"] = forms.ChoiceField(
                label="Reading",
                choices=[(word, READING_LABELS[word]) for word in words],
                widget=forms.RadioSelect,
            )
            return
        attrs = {"inputmode": "decimal", "autocomplete": "off"}
        field = forms.CharField(
            label="Reading", max_length=24, widget=forms.TextInput(attrs=attrs)
        )
        field.unit = UNIT_SIGNS[self.tool]  # type: ignore[attr-defined]  # drawn by the field template
        field.help_text = {
            "voltmeter": "Probe minus clip; comma or point.",
            "ohmmeter": "Comma or point; “open” where the meter shows no path.",
        }[self.tool]
        self.fields["reads"] = field

    def _add_rig(self) -> None:
        last = self.choices.last_rig
        for switch in self.choices.switches:
            self.fields[_SWITCH + switch.device] = forms.ChoiceField(
                label=switch.title,
                choices=[(position, position) for position in switch.positions],
                initial=last.get(switch.device, switch.positions[0]),
            )
        if self.choices.has_charger:
            self.fields["engine"] = _words("Engine", ("stopped", "running"), last)
        lead_off = {"battery-lead": "off"} if self.tool == "ohmmeter" else last
        self.fields["battery-lead"] = _words("Battery lead", ("on", "off"), lead_off)
        self.fields["unplugged"] = _several("Unplugged", self.choices.plugs)
        self.fields["removed"] = _several("Taken out", self.choices.removable)

    def _rig(self) -> dict[str, Any]:
        data = self.cleaned_data
        rig: dict[str, Any] = {
            switch.device: data[_SWITCH + switch.device]
            for switch in self.choices.switches
            if data[_SWITCH + switch.device] != switch.positions[0]
        }
        if data.get("engine") == "running":
            rig["engine"] = "running"
        if data["battery-lead"] == "off":
            rig["battery-lead"] = "off"
        for key in ("unplugged", "removed"):
            if data[key]:
                rig[key] = sorted(data[key])
        return rig


def _offer(field: forms.Field, choices: list[tuple[str, str]]) -> None:
    if not isinstance(field, forms.ChoiceField):
        raise TypeError("only a field of choices can offer some")
    field.choices = choices


def _words(
    label: str, words: tuple[str, str], rig: Mapping[str, Any]
) -> forms.ChoiceField:
    key = label.lower().replace(" ", "-")
    return forms.ChoiceField(
        label=label,
        choices=[(word, word) for word in words],
        initial=rig.get(key, words[0]),
    )


def _several(label: str, named: tuple[Named, ...]) -> forms.MultipleChoiceField:
    return forms.MultipleChoiceField(
        label=label,
        choices=_pairs(named),
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )


def _pairs(named: tuple[Named, ...]) -> list[tuple[str, str]]:
    return [(item.name, item.words) for item in named]


TOOL_TABS = tuple((tool, TOOL_LABELS[tool]) for tool in TOOLS)
