"""Time and chance come in at the rim and are passed on from there."""

import ast

from tests.rules.source import Source, code, dotted

CLOCKS = {
    "timezone.now",
    "datetime.now",
    "datetime.utcnow",
    "datetime.today",
    "datetime.datetime.now",
    "date.today",
    "datetime.date.today",
    "time.time",
    "time.monotonic",
    "localtime",
    "timezone.localtime",
    "timezone.localdate",
}
CHANCE = ("random.", "secrets.", "uuid.", "np.random.", "numpy.random.")
# Where a request, a message or a person at the command line comes in.
RIM = {"web", "api", "tasks", "management", "jobs", "config", "admin"}
# A rehearsal draws from generators seeded by whoever asks for it; it can be repeated.
SEEDED = "harness/rehearsal/"
# A generator that the caller passes in is named by its type alone.
TYPES = {"np.random.Generator", "numpy.random.Generator", "random.Random"}


def clock_breaches(source: Source) -> list[str]:
    return [
        source.at(node, f"reads the clock by {dotted(node.func)}()")
        for node in ast.walk(source.tree)
        if isinstance(node, ast.Call)
        and dotted(node.func) in CLOCKS
        and not (dotted(node.func) in {"localtime", "timezone.localtime"} and node.args)
    ]


def chance_breaches(source: Source) -> list[str]:
    return [
        source.at(node, f"draws from {dotted(node)}")
        for node in ast.walk(source.tree)
        if isinstance(node, ast.Attribute)
        and dotted(node).startswith(CHANCE)
        and dotted(node) not in TYPES
        and not dotted(node).endswith(".random")
    ]


def is_core(source: Source) -> bool:
    if source.path.startswith(SEEDED):
        return False
    return source.path.startswith("harness/") or source.layer == "domain"


def test_the_clock_is_read_at_the_rim_alone() -> None:
    found = [
        breach
        for source in code()
        if source.layer not in RIM
        for breach in clock_breaches(source)
    ]
    assert found == []


def test_the_core_draws_no_random_numbers_of_its_own() -> None:
    found = [
        breach
        for source in code()
        if is_core(source)
        for breach in chance_breaches(source)
    ]
    assert found == []


def test_the_rule_sees_a_clock_and_a_die() -> None:
    assert clock_breaches(Source("shop/actions/x.py", "at = timezone.now()"))
    assert clock_breaches(Source("harness/x.py", "t = time.monotonic()"))
    assert clock_breaches(Source("shop/models/x.py", "d = timezone.localdate()"))
    assert not clock_breaches(Source("shop/x.py", "localtime(row.at)"))
    assert chance_breaches(Source("harness/x.py", "x = random.choice(rows)"))
    assert chance_breaches(Source("harness/x.py", "g = np.random.default_rng(1)"))
    assert not chance_breaches(
        Source("harness/x.py", "def f(g: np.random.Generator): ...")
    )
