"""Blind spots as a rehearsal gives them out."""

import json

from harness.rehearsal.blind_data import SPOKEN_AT_MOST, blind_data, blind_lines
from tests.harness.rehearsal.test_blind_spots import (
    horn_on_a_snap_connector,
    two_straps,
)


def test_a_snap_connector_is_one_entry_with_every_way_of_being_bad() -> None:
    told = blind_data(horn_on_a_snap_connector())
    (entry,) = [
        row
        for row in told["alike"]
        if row["segments"] == ["joint:snap.1", "joint:snap.2"]
    ]
    assert ["joint:snap.1", "open"] in entry["faults"]
    assert ["joint:snap.2", "resistive"] in entry["faults"]
    assert "the middle of snap" in entry["probe"]
    assert entry["test"]["tool"] == "voltmeter"


def test_an_unseen_bad_contact_is_one_entry_of_all_its_sizes() -> None:
    told = blind_data(two_straps())
    rows = [row for row in told["unseen"] if row["segment"] == "wire:left"]
    ways = [row["mode"] for row in rows]
    assert len(ways) == len(set(ways))
    (bad,) = [row for row in rows if row["mode"] == "resistive"]
    assert bad["ohms"] == sorted(bad["ohms"])
    assert len(bad["ohms"]) > 1
    assert bad["test"]["tool"] == "ammeter"


def test_blind_spots_are_plain_data_the_likeliest_first() -> None:
    told = blind_data(two_straps())
    assert json.loads(json.dumps(told)) == told
    for rows in told.values():
        chances = [row["chance"] for row in rows]
        assert chances == sorted(chances, reverse=True)


def test_in_words_each_comes_with_what_to_try() -> None:
    told = blind_data(two_straps())
    lines = blind_lines(told)
    assert lines[0] == "No offered test shows:"
    spoken = min(len(told["unseen"]), SPOKEN_AT_MOST)
    assert lines[1 : 1 + 2 * spoken : 2] == [
        f"  {row['words']}" for row in told["unseen"][:spoken]
    ]
    assert all(line.startswith("    try: ") for line in lines[2 : 2 + 2 * spoken : 2])


def test_a_loom_without_blind_spots_says_nothing() -> None:
    assert blind_lines({"unseen": [], "alike": []}) == []
