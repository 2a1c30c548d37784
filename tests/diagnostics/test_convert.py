"""What people type, as it is stored and as the engine takes it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnostics.convert import (
    FindingEntry,
    engine_finding,
    engine_id,
    engine_reading,
    entry_of,
    reading,
    sequence_of,
    tidied,
)
from diagnostics.models import Finding
from shop.domain.refusals import Refusal


@pytest.mark.parametrize(
    ("tool", "typed", "stored"),
    [
        ("voltmeter", "12.4", "12.4"),
        ("voltmeter", " 12,40 ", "12.40"),
        ("voltmeter", "-0,05", "-0.05"),
        ("voltmeter", "\N{MINUS SIGN}12", "-12"),
        ("voltmeter", "+6.1", "6.1"),
        ("voltmeter", "12.572161993626585", "12.572162"),
        ("voltmeter", "-9.72e-12", "0.000000"),
        ("ohmmeter", "0.3", "0.3"),
        ("ammeter", "-2,45", "-2.45"),
        ("ohmmeter", "OPEN", "open"),
        ("ohmmeter", "1e3", "1000"),
        ("test-lamp", "Lit", "lit"),
        ("eye", "blown", "blown"),
    ],
)
def test_a_reading_is_stored_in_one_form(tool: str, typed: str, stored: str) -> None:
    assert reading(tool, typed) == stored


@pytest.mark.parametrize(
    ("tool", "typed", "code"),
    [
        ("voltmeter", "", "reading-no-number"),
        ("voltmeter", "twelve", "reading-no-number"),
        ("voltmeter", "12.4.1", "reading-no-number"),
        ("voltmeter", "NaN", "reading-no-number"),
        ("voltmeter", "Infinity", "reading-no-number"),
        ("voltmeter", "open", "reading-no-number"),
        ("voltmeter", "1 2", "reading-no-number"),
        ("voltmeter", "\N{ARABIC-INDIC DIGIT ONE}", "reading-no-number"),
        ("voltmeter", "0." + "1" * 23, "reading-no-number"),
        ("voltmeter", "5000", "reading-out-of-range"),
        ("ohmmeter", "-1", "reading-out-of-range"),
        ("ammeter", "1001", "reading-out-of-range"),
        ("ammeter", "lit", "reading-no-number"),
        ("ammeter", "open", "reading-no-number"),
        ("ohmmeter", "1e10", "reading-out-of-range"),
        ("test-lamp", "12.4", "reading-unknown"),
        ("test-lamp", "works", "reading-unknown"),
        ("eye", "lit", "reading-unknown"),
    ],
)
def test_an_impossible_reading_is_refused_at_its_field(
    tool: str, typed: str, code: str
) -> None:
    with pytest.raises(Refusal) as refused:
        reading(tool, typed)
    assert (refused.value.code, refused.value.field) == (code, "reads")


@given(st.text(max_size=30))
def test_no_text_whatever_breaks_the_reader(typed: str) -> None:
    for tool in ("voltmeter", "ohmmeter", "ammeter", "test-lamp", "eye"):
        try:
            stored = reading(tool, typed)
        except Refusal:
            continue
        assert 0 < len(stored) <= 24
        engine_reading(tool, stored)


@given(st.decimals(-1000, 1000, places=2))
def test_a_voltage_reaches_the_engine_as_it_was_typed(volts: object) -> None:
    typed = str(volts).replace(".", ",")
    assert engine_reading("voltmeter", reading("voltmeter", typed)) == float(str(volts))


def test_the_clip_goes_to_the_first_body_unless_told() -> None:
    entry = FindingEntry(tool="test-lamp", probe="horn.1", reads="lit")
    assert tidied(entry, first_body="frame.e").clip == "frame.e"


def test_an_eye_has_a_device_and_no_leads() -> None:
    entry = FindingEntry(
        tool="eye", device="horn", probe="horn.1", clip="frame.e", reads="dead"
    )
    tidy = tidied(entry, first_body="frame.e")
    assert (tidy.device, tidy.probe, tidy.clip) == ("horn", "", "")


def test_a_clamp_has_a_wire_and_neither_leads_nor_device() -> None:
    entry = FindingEntry(
        tool="ammeter",
        wire="3",
        probe="horn.1",
        clip="frame.e",
        device="horn",
        reads="2,4",
        moving=True,
    )
    tidy = tidied(entry, first_body="frame.e")
    assert (tidy.wire, tidy.probe, tidy.clip, tidy.device) == ("3", "", "", "")
    assert (tidy.reads, tidy.moving) == ("2.4", True)


@pytest.mark.parametrize(
    ("entry", "field"),
    [
        (FindingEntry(tool="spade", reads="1"), "tool"),
        (FindingEntry(tool="ammeter", probe="horn.1", reads="1"), "wire"),
        (FindingEntry(tool="eye", reads="dead"), "device"),
        (FindingEntry(tool="test-lamp", reads="lit"), "probe"),
        (
            FindingEntry(tool="eye", device="horn", reads="dead", note="x" * 401),
            "note",
        ),
    ],
)
def test_what_is_missing_is_named(entry: FindingEntry, field: str) -> None:
    with pytest.raises(Refusal) as refused:
        tidied(entry, first_body="frame.e")
    assert refused.value.field == field


def test_a_loom_without_a_body_wants_a_clip() -> None:
    with pytest.raises(Refusal) as refused:
        tidied(
            FindingEntry(tool="test-lamp", probe="horn.1", reads="lit"), first_body=None
        )
    assert refused.value.field == "clip"


def test_the_engine_gets_words_as_words_and_figures_as_figures() -> None:
    lamp = FindingEntry(
        tool="test-lamp", probe="horn.1", clip="frame.e", rig={"key": "ON"}, reads="lit"
    )
    assert engine_finding(finding_id="f1", entry=lamp) == {
        "id": "f1",
        "rig": {"key": "ON"},
        "tool": "test-lamp",
        "probe": "horn.1",
        "clip": "frame.e",
        "reads": "lit",
    }
    meter = FindingEntry(
        tool="voltmeter", probe="horn.1", clip="frame.e", reads="12.40"
    )
    assert engine_finding(finding_id="f2", entry=meter)["reads"] == 12.4


def test_the_engine_hears_of_the_clamp_s_wire_and_of_the_loom_being_moved() -> None:
    clamp = FindingEntry(tool="ammeter", wire="3", reads="-2.4", moving=True)
    assert engine_finding(finding_id="f3", entry=clamp) == {
        "id": "f3",
        "rig": {},
        "tool": "ammeter",
        "wire": "3",
        "reads": -2.4,
        "moving": True,
    }


def test_a_stored_finding_can_be_taken_again_as_it_was() -> None:
    row = Finding(tool="ammeter", wire="3", moving=True, reads="2.4", rig={"a": "ON"})
    entry = entry_of(row)
    assert (entry.wire, entry.moving, entry.rig) == ("3", True, {"a": "ON"})


def test_a_proof_names_the_finding_it_came_from() -> None:
    assert sequence_of(engine_id(17)) == 17
