"""The same as plain data, ready for JSON."""

import json
from typing import Any, cast

from hypothesis import given

from harness.measurements import KINDS, judge, judgement_data, kind_data
from tests.harness.measurements.bikes import SYSTEMS, TWELVE
from tests.harness.measurements.samples import Sample, samples


@given(samples())
def test_every_judgement_survives_json(sample: Sample) -> None:
    kind, system, readings = sample
    data = judgement_data(judge(kind.name, readings, system))
    assert json.loads(json.dumps(data, allow_nan=False)) == data


def test_every_kind_survives_json() -> None:
    for kind in KINDS:
        for system in SYSTEMS:
            if system.volts in kind.systems:
                data = kind_data(kind, system)
                assert json.loads(json.dumps(data, allow_nan=False)) == data


def test_an_open_circuit_is_a_word() -> None:
    readings = {"coil_class": "points-12v", "primary_ohm": "open"}
    data = cast("Any", judgement_data(judge("coil-primary", readings, TWELVE)))
    assert data["held"][0]["number"]["value"] == "open"
    assert data["verdict"] == "fault"


def test_the_source_goes_along_with_its_standing() -> None:
    readings = {"rest_v": 12.5, "battery_c": 25, "rested_h": 10}
    data = cast("Any", judgement_data(judge("battery-rest", readings, TWELVE)))
    assert data["published"] is True
    assert data["held"][0]["limit"]["standing"] == "published"
    assert data["held"][0]["limit"]["confidence"] == "medium"
    drop = {"stretch": "cable", "drop_v": 0.1}
    data = cast("Any", judgement_data(judge("voltage-drop", drop, TWELVE)))
    assert data["published"] is False
