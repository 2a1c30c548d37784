"""What can hurt somebody while a measurement is taken, in plain words."""

from enum import StrEnum


class Caution(StrEnum):
    """A caution that belongs to a measurement."""

    ENGINE_RUNNING = "engine-running"
    CRANKING = "cranking"
    STARTER_AS_LOAD = "starter-as-load"
    CHARGING_AS_LOAD = "charging-as-load"
    BATTERY = "battery"
    ACID = "acid"
    SPARKS = "sparks"
    ISOLATE = "isolate"
    HOT_PARTS = "hot-parts"
    FUSE = "fuse"


_WORDS = {
    Caution.ENGINE_RUNNING: (
        "Run the engine outdoors or with exhaust extraction only. Hands off the "
        "ignition leads: 10 to 30 kV, worse for anyone with a pacemaker. Keep test "
        "leads clear of pipes, chain and wheel, and never take the battery off while "
        "it runs."
    ),
    Caution.CRANKING: (
        "Bike on its stand and in neutral, no petrol vapour about. Earth every "
        "plug lead before cranking, and keep hands off them: 10 to 30 kV, worse for "
        "anyone with a pacemaker."
    ),
    Caution.STARTER_AS_LOAD: (
        "With the starter as the load: bike on its stand and in neutral, every plug "
        "lead earthed before cranking, and hands off them: 10 to 30 kV."
    ),
    Caution.CHARGING_AS_LOAD: (
        "On the charging leads the engine runs: outdoors or with exhaust extraction "
        "only, hands off the ignition leads, test leads clear of pipes, chain and "
        "wheel, and never take the battery off while it runs."
    ),
    Caution.BATTERY: (
        "Rings, watch and chains off, insulated tools. Air the place, and no flame, "
        "spark or phone near a battery that is on charge or just off it: it gives "
        "hydrogen."
    ),
    Caution.ACID: (
        "Goggles or visor, gloves and apron: the electrolyte is sulphuric acid. Water "
        "ready; wash after."
    ),
    Caution.SPARKS: (
        "A load test draws a great current: make and break it at the tester, never at "
        "the battery post, where gas may stand. Let the load cool between tests."
    ),
    Caution.HOT_PARTS: (
        "Exhaust, engine and stator covers burn: let them cool, and route the leads "
        "clear of them."
    ),
    Caution.FUSE: (
        "Nothing is switched on and the engine is not cranked with an ammeter in line; "
        "if its fuse blows, find why and never fit a larger one."
    ),
}


def caution_words(caution: Caution, *, earth: str) -> str:
    """Return a caution in words, for a bike with this earthed pole.

    Examples
    --------
    >>> "the positive one" in caution_words(Caution.ISOLATE, earth="positive")
    True
    """
    if caution is Caution.ISOLATE:
        return (
            "Key off and battery isolated before any resistance is measured or "
            f"anything unplugged: the earthed lead first, here the {earth} one, "
            "stowed so that it cannot spring back. It goes on last."
        )
    return _WORDS[caution]
