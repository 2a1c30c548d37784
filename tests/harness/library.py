"""The demo's looms, and the rig in which each of their consumers should work.

Beside them the case looms: bikes of other makers, each different in kind, that stand
under ``tests/cases/looms``.
"""

from functools import cache
from pathlib import Path

import harness

ROOT = Path(__file__).resolve().parents[2]
FOLDER = ROOT / "diagnostics" / "library"
CASE_FOLDER = ROOT / "tests" / "cases" / "looms"
WHIMBREL = "brackenhythe-whimbrel-500.toml"
DOTTEREL = "brackenhythe-dotterel-650.toml"
LOOMS = (WHIMBREL, DOTTEREL)
# Each has something that the others have not: see the head of its file.
CASE_LOOMS = tuple(sorted(path.name for path in CASE_FOLDER.glob("*.toml")))
# Small enough to try every pair of faults with the full solver.
WREN = "pennock-wren-50.toml"
EVERY_LOOM = (*LOOMS, *CASE_LOOMS)

Rig = dict[str, object]

ON: Rig = {"key-switch": "ON"}
SIDE: Rig = {"light-switch": "SIDE"}
HEAD: Rig = {"light-switch": "HEAD"}
MAIN: Rig = {"light-switch": "HEAD", "dip-switch": "MAIN"}
RIDING: Rig = {
    "engine": "running",
    "neutral-switch": "GEAR",
    "oil-switch": "PRESSURE",
}

# Consumer -> the rig that puts it to work. Every switch named is needed: with any one
# of them back at rest the consumer must be dead.
WORKS_IN: dict[str, dict[str, Rig]] = {
    WHIMBREL: {
        "coil-left": ON | {"points-left": "SHUT"},
        "coil-right": ON | {"points-right": "SHUT"},
        "headlamp.dip": ON | HEAD,
        "headlamp.main": ON | MAIN,
        "main-telltale": ON | MAIN,
        "pilot": ON | SIDE,
        "rear-lamp.tail": ON | SIDE,
        "speedo-lamp": ON | SIDE,
        "rear-lamp.stop": ON | {"rear-brake-switch": "PRESSED"},
        "horn": ON | {"horn-button": "PRESSED"},
        "front-left": ON | {"turn-switch": "L"},
        "rear-left": ON | {"turn-switch": "L"},
        "front-right": ON | {"turn-switch": "R"},
        "rear-right": ON | {"turn-switch": "R"},
        "turn-telltale": ON | {"turn-switch": "R"},
        "neutral-lamp": ON,
        "oil-lamp": ON,
    },
    DOTTEREL: {
        "coil": ON,
        "starter": ON | {"start-button": "PRESSED"},
        "headlamp.dip": HEAD,
        "headlamp.main": MAIN,
        "main-telltale": MAIN,
        "pilot": SIDE,
        "rear-lamp.tail": SIDE,
        "speedo-lamp": SIDE,
        "rear-lamp.stop": ON | {"front-brake-switch": "PULLED"},
        "horn": ON | {"horn-button": "PRESSED"},
        "front-left": ON | {"turn-switch": "L"},
        "rear-left": ON | {"turn-switch": "L"},
        "left-telltale": ON | {"turn-switch": "L"},
        "front-right": ON | {"turn-switch": "R"},
        "rear-right": ON | {"turn-switch": "R"},
        "right-telltale": ON | {"turn-switch": "R"},
        "neutral-lamp": ON,
        "oil-lamp": ON,
    },
}

# More rigs in which a consumer works: the other switch, the other way round.
WORKS_ALSO: dict[str, tuple[tuple[str, Rig], ...]] = {
    WHIMBREL: (
        ("rear-lamp.stop", ON | {"front-brake-switch": "PULLED"}),
        ("turn-telltale", ON | {"turn-switch": "L"}),
        ("pilot", {"key-switch": "PARK"}),
        ("rear-lamp.tail", {"key-switch": "PARK"}),
        ("rear-lamp.tail", ON | HEAD),
        ("headlamp.dip", ON | HEAD | RIDING),
        ("coil-left", ON | RIDING | {"points-left": "SHUT", "points-right": "SHUT"}),
    ),
    DOTTEREL: (
        ("rear-lamp.stop", ON | {"rear-brake-switch": "PRESSED"}),
        (
            "starter",
            ON
            | {
                "neutral-switch": "GEAR",
                "clutch-switch": "PULLED",
                "start-button": "PRESSED",
            },
        ),
        ("headlamp.dip", ON | HEAD | RIDING),
        ("headlamp.main", ON | MAIN | RIDING),
        ("coil", ON | RIDING),
    ),
}

# Rigs in which a consumer must be dead although the key is on.
DEAD_IN: dict[str, tuple[tuple[str, Rig], ...]] = {
    WHIMBREL: (
        ("headlamp.main", ON | HEAD),
        ("headlamp.dip", ON | MAIN),
        ("headlamp.dip", {"key-switch": "PARK"} | HEAD),
        ("rear-lamp.stop", {"key-switch": "PARK", "rear-brake-switch": "PRESSED"}),
        ("coil-left", ON | {"points-left": "SHUT", "kill-switch": "OFF"}),
        ("coil-left", ON | {"points-right": "SHUT"}),
        ("front-right", ON | {"turn-switch": "L"}),
        ("rear-left", ON | {"turn-switch": "R"}),
        ("neutral-lamp", ON | {"neutral-switch": "GEAR"}),
        ("oil-lamp", ON | {"oil-switch": "PRESSURE"}),
    ),
    DOTTEREL: (
        ("headlamp.main", HEAD),
        ("headlamp.dip", MAIN),
        ("coil", ON | {"points": "OPEN"}),
        ("coil", ON | {"kill-switch": "OFF"}),
        ("starter", ON | {"start-button": "PRESSED", "kill-switch": "OFF"}),
        ("starter", ON | {"start-button": "PRESSED", "neutral-switch": "GEAR"}),
        ("neutral-lamp", ON | {"neutral-switch": "GEAR", "clutch-switch": "PULLED"}),
        ("oil-lamp", ON | {"oil-switch": "PRESSURE"}),
        ("rear-lamp.stop", {"front-brake-switch": "PULLED"}),
        ("left-telltale", ON | {"turn-switch": "R"}),
    ),
}


@cache
def loom(file: str) -> harness.Harness:
    """Return a loom of the library, or a case loom."""
    return harness.load((FOLDER if file in LOOMS else CASE_FOLDER) / file)


def everything_on(file: str) -> Rig:
    """Return the rig that draws most: all that can be on at once, bar the starter."""
    rig = ON | MAIN | {"turn-switch": "L", "horn-button": "PRESSED"}
    rig |= {"front-brake-switch": "PULLED", "rear-brake-switch": "PRESSED"}
    if file == WHIMBREL:
        rig |= {"points-left": "SHUT", "points-right": "SHUT"}
    return rig


def every_rig(file: str) -> list[Rig]:
    """Return each rig of the tables once, the one at rest first."""
    rigs: list[Rig] = [{}, *WORKS_IN[file].values()]
    rigs += [rig for _, rig in (*WORKS_ALSO[file], *DEAD_IN[file])]
    rigs.append(everything_on(file))
    return [rig for k, rig in enumerate(rigs) if rig not in rigs[:k]]
