"""Every single fault, 300 pairs and 60 triples of a loom, in every ordinary rig.

The unit tests take a seeded few of them (tests/harness/test_tables.py and
test_readings.py); this takes all: node volts to a millionth of a volt, which fuses have
opened, where a bike finds no rest, and what each tool reads.
"""

import sys

import pytest

from harness.consumers import ordinary_rigs
from tests.benchmarks.looms import MEASURED
from tests.harness.compared import TOOLS, Asked, apart, every_set, volts_apart
from tests.harness.library import loom

PAIRS, TRIPLES = 300, 60


def say(text: str) -> None:
    sys.stdout.write(f" ({text}) ")


@pytest.mark.parametrize("file", MEASURED)
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


@pytest.mark.parametrize("file", MEASURED)
def test_every_tool_reads_what_it_would_on_the_bike_itself(
    file: str, capsys: pytest.CaptureFixture[str]
) -> None:
    h = loom(file)
    for tool in TOOLS:
        found = Asked.of(h, tool, sets=60, places=3, seed=1966).compare(h, tool)
        with capsys.disabled():
            say(f"{len(found)} readings by {tool}")
        assert apart(h, tool, found) == []
