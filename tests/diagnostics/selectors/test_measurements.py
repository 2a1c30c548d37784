"""Measurements and their kinds in words."""

from typing import Any

import pytest

from diagnostics.actions.measurements import (
    MeasurementEntry,
    record_measurement,
    void_measurement,
)
from diagnostics.models import Case, Measurement
from diagnostics.selectors.measurements import (
    kind_view_named,
    kind_views,
    measurement_views,
)
from shop.domain.refusals import NotFound
from tests.builders import MORNING, UserFactory
from tests.diagnostics.builders import a_case

DROP = {"stretch": "earth-side", "drop_v": 0.4, "load_a": 4}
COIL = {"coil_class": "points-12v", "primary_ohm": "open"}


def measured(case: Case, kind: str, readings: dict[str, Any]) -> Measurement:
    return record_measurement(
        case_id=case.pk,
        entry=MeasurementEntry(kind=kind, readings=readings),
        key=kind,
        acting_user=UserFactory.create(),
        at=MORNING,
    )


@pytest.mark.django_db
def test_a_measurement_reads_as_it_was_judged() -> None:
    case = a_case()
    measured(case, "voltage-drop", DROP)
    (view,) = measurement_views(case_id=case.pk)
    assert (view.sequence, view.title) == (1, "Voltage drop under load")
    assert (view.verdict, view.verdict_label) == ("fault", "Fault")
    assert view.read == (
        "Measured over: Earth side, consumer's body to earthed post; "
        "Voltage drop: 0.40 V; Current that flowed: 4.00 A"
    )
    assert [one.text for one in view.numbers] == ["100.0 mΩ"]
    (held,) = view.held
    assert (held.text, held.verdict_label) == ("0.40 V", "Fault")
    assert (held.standing, held.confidence) == ("common practice", "high")
    assert view.published is False


@pytest.mark.django_db
def test_an_open_winding_reads_as_open() -> None:
    case = a_case()
    measured(case, "coil-primary", COIL)
    (view,) = measurement_views(case_id=case.pk)
    assert view.entered[1].text == "open (no path)"


@pytest.mark.django_db
def test_a_voided_measurement_is_shown_with_its_reason() -> None:
    case = a_case()
    made = measured(case, "voltage-drop", DROP)
    void_measurement(
        measurement_id=made.pk,
        reason="Clip on paint.",
        acting_user=UserFactory.create(),
        at=MORNING,
    )
    (view,) = measurement_views(case_id=case.pk)
    assert view.void is not None
    assert view.void.reason == "Clip on paint."


def test_the_kinds_of_a_system_have_steps_inputs_cautions_and_limits() -> None:
    kinds = kind_views(volts=6, earth="positive")
    assert len(kinds) == 10
    for kind in kinds:
        assert kind.steps
        assert kind.inputs
        assert kind.cautions
        assert kind.limits
        assert all("confidence" in limit.source for limit in kind.limits)
    assert [
        limit.words for limit in kind_views(volts=6, earth="positive")[3].limits
    ] == ["Battery voltage while cranking: 4.8 V at least (starter turning the engine)"]


def test_a_kind_that_is_not_for_these_volts_is_not_found() -> None:
    names = {kind.name for kind in kind_views(volts=24, earth="negative")}
    assert "coil-primary" not in names
    for name in ("coil-primary", "tea"):
        with pytest.raises(NotFound):
            kind_view_named(name, volts=24, earth="negative")
