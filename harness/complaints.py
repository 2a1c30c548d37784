"""What a rider can say: each consumer, in the rig in which it should work."""

from typing import Any

from harness.consumers import consumers, ordinary_rigs
from harness.model import Harness
from harness.words import rig_words


def complaints(h: Harness) -> list[dict[str, Any]]:
    """Return every consumer with an ordinary rig of it.

    Returns
    -------
    list of dict
        ``device`` (as a finding names it), ``name``, ``rig`` and ``rig_words``; a
        consumer with two switches of its own, such as a stop lamp, comes twice.
    """
    return [
        {
            "device": c.device,
            "name": c.name,
            "rig": c.rig.as_mapping(),
            "rig_words": rig_words(h, c.rig),
        }
        for c in consumers(h)
    ]


def rigs_offered(h: Harness) -> list[dict[str, Any]]:
    """Return the ordinary rigs, the rest rig first, each with ``rig`` and ``words``."""
    return [
        {"rig": rig.as_mapping(), "words": rig_words(h, rig)}
        for rig in ordinary_rigs(h)
    ]
