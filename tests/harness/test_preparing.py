"""A prepared loom answers the first finding from what is there already."""

import pytest

from harness import HarnessError
from harness.model import Harness
from harness.predictions import predictions_for, symptom_tests
from harness.preparing import prepare
from tests.harness.small_looms import horn_and_tail


def test_a_prepared_loom_knows_what_every_look_would_show() -> None:
    h = horn_and_tail()
    prepare(h)
    assert set(symptom_tests(h)) <= predictions_for(h).columns.keys()


def test_a_loom_without_metal_cannot_be_prepared() -> None:
    battery = horn_and_tail().devices["battery"]
    bare = Harness.build(
        title="No metal", volts=12.0, earth="negative", devices=[battery]
    )
    with pytest.raises(HarnessError, match="meets no body"):
        prepare(bare)
