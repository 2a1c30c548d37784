"""What can hurt somebody at a loom, in plain words, by what is about to be done.

The words are those of the trade: the earthed lead comes off first and goes on last,
and which lead that is depends on the bike.
"""

from collections.abc import Mapping
from typing import Any

FUSE = (
    "Never fit a larger fuse, foil or wire in its place. Find why it blew: "
    "the fuse guards the wire."
)
JUMPER = (
    "A jumper lead carries its own fuse, no larger than the one that guards the "
    "circuit. Never bridge a consumer, or both posts of the battery."
)
TEST_LAMP = (
    "A test lamp draws current: keep it off electronic modules, and do not pierce "
    "insulation that will get wet."
)
ENGINE_RUNNING = (
    "Run the engine outdoors or with exhaust extraction only. Hands off the ignition "
    "leads: 10 to 30 kV. Keep test leads clear of pipes, chain and wheel, and never "
    "take the battery off while it runs."
)
LIT_LAMPS = "Lamps that were lit are hot; let them cool before touching them."
BATTERY = (
    "Rings, watch and chains off. No flame, spark or phone near a battery that is on "
    "charge or just off it."
)
FUEL = (
    "With the tank off or a fuel line open: no ignition source near, petrol vapour "
    "travels and lights even when cold."
)


def isolate_battery(earth: str) -> str:
    """Return how to isolate the battery of a bike with this earthed pole.

    Examples
    --------
    >>> "positive" in isolate_battery("positive")
    True
    """
    return (
        "Key off and battery isolated before unplugging, cutting or joining anything: "
        f"the earthed lead first, on this bike the {earth} one, stowed so that it "
        "cannot spring back. It goes on last."
    )


def cautions_for(
    *, tool: str, rig: Mapping[str, Any], device: str, earth: str
) -> tuple[str, ...]:
    """Return the cautions that belong to one test, the gravest first."""
    found = []
    if rig.get("engine") == "running":
        found.append(ENGINE_RUNNING)
    opened = any(rig.get(key) for key in ("unplugged", "removed", "jumpers"))
    if tool == "ohmmeter" or rig.get("battery-lead") == "off" or opened:
        found.append(isolate_battery(earth))
    if tool == "test-lamp":
        found.append(TEST_LAMP)
    if rig.get("jumpers"):
        found.append(JUMPER)
    if "fuse" in device or rig.get("removed"):
        found.append(FUSE)
    return tuple(found)


def repair_cautions(earth: str) -> tuple[str, ...]:
    """Return what to heed while a loom is being put right."""
    return (isolate_battery(earth), BATTERY, FUSE, FUEL)
