"""What the bench adds to a bike's page."""

from diagnostics import timeline
from shop.seams import Registry


def test_every_act_of_the_bench_belongs_to_its_kind() -> None:
    registry = Registry()
    timeline.register_with(registry)
    (kind,) = registry.timeline_kinds()
    assert (kind.key, kind.nouns) == (
        "findings",
        ("case", "finding", "repair", "measurement"),
    )
