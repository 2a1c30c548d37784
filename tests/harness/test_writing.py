"""A harness written out and read again is the same harness."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harness.files import load, loads
from harness.model import Harness
from harness.writing import dumps
from tests.harness.written import GOOD

ROOT = Path(__file__).parents[2]

MORE = """
[devices.charger]
kind = "charger"
[devices.diode]
kind = "diode"
[devices.motor]
kind = "motor"
ohms = 0.031
name = 'The "old" starter'
note = "two\\nlines, ä"
place = "tray"
[devices.plain-lamp]
kind = "lamp"
watts = 3
at_volts = 13.5
[devices.button]
kind = "switch"
momentary = true
positions = ["OUT", "IN"]
joins = { OUT = [["1", "2"]], IN = [["1", "3"], ["2", "4"]] }
[[wires]]
id = "20"
from = "starter.87a"
to = "j1.B+"
ohms = 1e-9
note = "thin"
"""


def same(h: Harness) -> bool:
    again = loads(dumps(h), name="x")
    return again == h and again.digest == h.digest and dumps(again) == dumps(h)


def test_every_kind_comes_back() -> None:
    h = loads(GOOD + MORE)
    assert same(h)
    assert len({d.kind for d in h.devices.values()}) == 13


@pytest.mark.parametrize(
    "path",
    sorted((ROOT / "tests" / "cases").glob("c[0-9]*.toml")),
    ids=lambda p: p.stem,
)
def test_the_shipped_circuits_come_back(path: Path) -> None:
    assert same(load(path))


def test_a_gauge_comes_back_as_a_gauge() -> None:
    assert "awg = 14\n" in dumps(loads(GOOD))


def test_a_variant_is_written_out_whole(tmp_path: Path) -> None:
    (tmp_path / "base.toml").write_text(GOOD, encoding="utf-8")
    text = 'schema = 1\nextends = "base.toml"\nremove_wires = ["7"]\n'
    h = loads(text, base_dir=tmp_path)
    assert "extends" not in dumps(h)
    assert same(h)


NUMBERS = st.floats(1e-6, 1e6, allow_subnormal=False)
TEXTS = st.text(
    st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"])
    | st.sampled_from('\n\t"\\'),
    max_size=30,
).filter(lambda t: "\ufffe" not in t and "\uffff" not in t)


@settings(max_examples=200, deadline=None)
@given(NUMBERS, TEXTS, TEXTS)
def test_any_number_and_any_words_come_back(ohms: float, title: str, note: str) -> None:
    h = loads(GOOD.replace("coil_ohms = 40", f"coil_ohms = {ohms!r}"))
    worded = Harness.build(
        title=title or "x",
        volts=h.volts,
        earth=h.earth,
        places=h.places.values(),
        devices=h.devices.values(),
        wires=[replace(wire, note=note) for wire in h.wires.values()],
    )
    assert same(worded)
    assert loads(dumps(worded)).wires["1"].note == note
