"""Every single fault, 300 pairs and 60 triples of most looms, in every ordinary rig.

The unit tests take a seeded few of them (tests/harness/test_tables.py and
test_readings.py); this takes all, but of three looms that take long: node volts
to a millionth of a volt, which fuses have opened, where a bike finds no rest. What each
tool reads is compared on every loom.
"""

import sys

import pytest

from harness.consumers import ordinary_rigs
from tests.harness.compared import TOOLS, Asked, apart, every_set, volts_apart
from tests.harness.library import DOTTEREL, EVERY_LOOM, loom

PAIRS, TRIPLES = 300, 60
# Of these the circuits take a minute or so to solve one by one; they are left out so
# that the gate ends in time.
LONG = {DOTTEREL, "ostermoor-goshawk-900.toml", "vennacott-linnet-250.toml"}
COMPARED = [file for file in EVERY_LOOM if file not in LONG]


def say(text: str) -> None:
    sys.stdout.write(f" ({text}) ")


@pytest.mark.parametrize("file", COMPARED)
def test_every_set_has_the_volts_that_it_has_by_itself(
    file: str, capsys: pytest.CaptureFixture[str]
) -> None:
    h = loom(file)
    sets = every_set(h, pairs=PAIRS, triples=TRIPLES)
    rigs = ordinary_rigs(h)
    found = [row for rig in rigs for row in volts_apart(h, rig, sets)]
    with capsys.disabled():
        say(f"{len(sets)} sets in {len(rigs)} rigs")
    assert found == []


@pytest.mark.parametrize("file", EVERY_LOOM)
def test_every_tool_reads_what_it_would_on_the_bike_itself(
    file: str, capsys: pytest.CaptureFixture[str]
) -> None:
    h = loom(file)
    for tool in TOOLS:
        found = Asked.of(h, tool, sets=60, places=3, seed=1966).compare(h, tool)
        with capsys.disabled():
            say(f"{len(found)} readings by {tool}")
        assert apart(h, tool, found) == []
