"""What programs send to the bench; the actions decide what it means."""

from typing import Any

from rest_framework import serializers

import harness
from diagnostics.convert import LONGEST_NOTE, FindingEntry
from diagnostics.models import TOOLS

KEY_HEADER = "Idempotency-Key"


class RigField(serializers.DictField):
    """Positions of switches by id, and engine, battery-lead, unplugged, removed."""


class HarnessFileBody(serializers.Serializer[Any]):
    """A drawing as text."""

    maker = serializers.CharField(max_length=80)
    model = serializers.CharField(max_length=80)
    years = serializers.CharField(max_length=40, allow_blank=True, default="")
    text = serializers.CharField(
        trim_whitespace=False, help_text="The harness file itself (TOML)."
    )


class HarnessFileUpload(serializers.Serializer[Any]):
    """A drawing as a file."""

    maker = serializers.CharField(max_length=80)
    model = serializers.CharField(max_length=80)
    years = serializers.CharField(max_length=40, allow_blank=True, default="")
    file = serializers.FileField(allow_empty_file=True)


class CaseBody(serializers.Serializer[Any]):
    """A fault hunt to be opened."""

    work_order_id = serializers.IntegerField(min_value=1)
    harness_file_id = serializers.IntegerField(min_value=1)
    title = serializers.CharField(max_length=120)


class EyeBody(serializers.Serializer[Any]):
    """What one consumer does in one rig."""

    device = serializers.CharField(max_length=120)
    rig = RigField(default=dict)
    reads = serializers.CharField(max_length=24, help_text="works, weak or dead.")


class ComplaintBody(serializers.Serializer[Any]):
    """The complaint in one go."""

    eyes = EyeBody(many=True)


class FindingBody(serializers.Serializer[Any]):
    """One finding."""

    tool = serializers.ChoiceField(choices=TOOLS)
    rig = RigField(default=dict)
    probe = serializers.CharField(max_length=120, allow_blank=True, default="")
    clip = serializers.CharField(
        max_length=120,
        allow_blank=True,
        default="",
        help_text="Where the other lead is; the first body unless said.",
    )
    device = serializers.CharField(max_length=120, allow_blank=True, default="")
    wire = serializers.CharField(
        max_length=120,
        allow_blank=True,
        default="",
        help_text="The number of the wire that the ammeter was closed round.",
    )
    moving = serializers.BooleanField(
        default=False,
        help_text="Whether the loom was being moved about while it was read.",
    )
    reads = serializers.CharField(
        max_length=24,
        help_text="lit, dim, dark; works, weak, dead; intact, blown; a number; open.",
    )
    origin = serializers.ChoiceField(choices=("advised", "free"), default="free")
    note = serializers.CharField(max_length=LONGEST_NOTE, allow_blank=True, default="")


class ReasonBody(serializers.Serializer[Any]):
    """A reason in a few words."""

    reason = serializers.CharField(max_length=400)


class RepairBody(serializers.Serializer[Any]):
    """What was done to the loom."""

    done = serializers.CharField(max_length=4000)
    segments = serializers.ListField(
        child=serializers.CharField(max_length=200), default=list
    )
    mode = serializers.ChoiceField(choices=("", *harness.MODES), default="")
    parts = serializers.CharField(max_length=400, allow_blank=True, default="")


class RetestBody(serializers.Serializer[Any]):
    """What a failed test reads now."""

    reads = serializers.CharField(max_length=24)
    note = serializers.CharField(max_length=LONGEST_NOTE, allow_blank=True, default="")


def finding_entry(data: Any) -> FindingEntry:
    """Return a checked body as a finding."""
    return FindingEntry(
        tool=data["tool"],
        reads=data["reads"],
        rig=data["rig"],
        probe=data["probe"],
        clip=data["clip"],
        device=data["device"],
        wire=data["wire"],
        moving=data["moving"],
        note=data["note"],
    )


def eye_entries(data: Any) -> list[FindingEntry]:
    """Return a checked complaint as findings by eye."""
    return [
        FindingEntry(
            tool="eye", device=eye["device"], rig=eye["rig"], reads=eye["reads"]
        )
        for eye in data["eyes"]
    ]
