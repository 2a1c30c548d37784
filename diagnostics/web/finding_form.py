"""The form for any finding: every switch of the loom, the test, and its reading."""

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms
from typing_extensions import override

from diagnostics.convert import EYE_READS, LAMP_READS, FindingEntry
from diagnostics.models import TOOLS
from diagnostics.selectors.rigs import Named, RigChoices, WireChoice
from diagnostics.words import READING_LABELS, TOOL_LABELS, UNIT_SIGNS

_SWITCH = "switch-"
_OTHER_RIG = ("engine", "battery-lead")
_MORE_RIG = ("unplugged", "removed", "pulled", "jumper_from", "jumper_to")
_SPOTS = {"list": "terminals", "autocomplete": "off", "autocapitalize": "off"}
TOOL_TABS = tuple((tool, TOOL_LABELS[tool]) for tool in TOOLS)


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
        self.fields["moving"] = forms.BooleanField(
            label="The loom was being moved about meanwhile", required=False
        )
        self.fields["note"] = forms.CharField(max_length=400, required=False)

    @property
    def switch_fields(self) -> list[forms.BoundField]:
        """The fields that set the rig, in their order."""
        names = [_SWITCH + switch.device for switch in self.choices.switches]
        return [self[name] for name in (*names, *_OTHER_RIG) if name in self.fields]

    @property
    def test_fields(self) -> list[forms.BoundField]:
        """The fields of the test itself, in their order."""
        names = ("device", "wire", "probe", "clip", "reads", "moving", "note")
        return [self[name] for name in names if name in self.fields]

    @property
    def has_more_rig(self) -> bool:
        """Whether anything is unplugged, taken out or bridged."""
        return any(self[name].value() for name in _MORE_RIG)

    @property
    def more_rig_fields(self) -> list[forms.BoundField]:
        """The fields of what is unplugged, taken out or bridged."""
        return [self[name] for name in _MORE_RIG]

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
            wire=data.get("wire", ""),
            moving=data["moving"],
            note=data["note"],
        )

    def _add_where(self) -> None:
        if self.tool == "eye":
            self.fields["device"] = forms.ChoiceField(
                label="Device",
                choices=[("", "choose"), *_pairs(self.choices.watchable)],
            )
            return
        if self.tool == "ammeter":
            self.fields["wire"] = _WireField(self.choices.wires)
            return
        self.fields["probe"] = forms.CharField(
            label="Probe on",
            max_length=120,
            widget=forms.TextInput(attrs=_SPOTS),
            help_text="Device and pin: horn.1",
        )
        self.fields["clip"] = forms.CharField(
            label="Clip on",
            max_length=120,
            required=False,
            widget=forms.TextInput(attrs=_SPOTS),
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
            "ammeter": "Plus from the wire's first end to its second, minus the other "
            "way; comma or point.",
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
        self.fields["pulled"] = forms.CharField(
            label="Wires pulled off a pin",
            max_length=400,
            required=False,
            widget=forms.TextInput(attrs=_SPOTS),
            help_text="Device and pin; several with commas: horn.1, horn.2",
        )
        for name, label in (("jumper_from", "Jumper from"), ("jumper_to", "Jumper to")):
            self.fields[name] = forms.CharField(
                label=label,
                max_length=120,
                required=False,
                widget=forms.TextInput(attrs=_SPOTS),
                help_text="Only a lead with its own fuse.",
            )

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
        pins = [pin.strip() for pin in data["pulled"].split(",")]
        unplugged = [*data["unplugged"], *filter(None, pins)]
        for key, names in (("unplugged", unplugged), ("removed", data["removed"])):
            if names:
                rig[key] = sorted(names)
        if data["jumper_from"]:
            rig["jumpers"] = [[data["jumper_from"].strip(), data["jumper_to"].strip()]]
        return rig

    @override
    def clean(self) -> dict[str, Any]:
        """Check that a jumper lead has two ends."""
        data = super().clean() or {}
        ends = ("jumper_from", "jumper_to")
        for name, other in (ends, ends[::-1]):
            if data.get(other) and not data.get(name):
                self.add_error(name, "Say where the other end of the jumper was.")
        return data


class _WireField(forms.CharField):
    """A wire by its number, or by its colour where only one has it."""

    def __init__(self, wires: Sequence[WireChoice]) -> None:
        attrs = {"list": "wires", "autocomplete": "off", "autocapitalize": "off"}
        super().__init__(
            label="Clamp round wire",
            max_length=120,
            widget=forms.TextInput(attrs=attrs),
            help_text="Its number, or its letters where only one wire has them.",
        )
        self.wires = wires

    @override
    def clean(self, value: Any) -> str:
        """Return the wire's number."""
        typed = str(super().clean(value))
        if typed in {wire.name for wire in self.wires}:
            return typed
        alike = [w.name for w in self.wires if w.letters and w.letters == typed.upper()]
        if len(alike) > 1:
            named = f"{', '.join(alike[:-1])} and {alike[-1]}"
            raise forms.ValidationError(
                f"Wires {named} are all {typed.upper()}: say which, by its number."
            )
        if not alike:
            raise forms.ValidationError(
                f"There is no wire “{typed}” to clamp on this drawing; pick one of the "
                "list."
            )
        return alike[0]


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
