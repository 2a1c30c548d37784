"""The ignition coil by ohmmeter. V9 (prac L): wide bands, and no fault but open."""

import pytest

from harness import HarnessError
from harness.measurements import Confidence, Judgement, System, Verdict, judge
from harness.measurements.coils import primary_amps
from tests.harness.measurements.bikes import SIX, TWELVE, TWENTY_FOUR


def coil(
    ohm: object, coil_class: str = "points-12v", system: System = TWELVE, **o: object
) -> Judgement:
    given = {"coil_class": coil_class, "primary_ohm": ohm, **o}
    return judge("coil-primary", given, system)


@pytest.mark.parametrize(
    ("coil_class", "system", "inside", "outside"),
    [
        ("points-12v", TWELVE, 4.0, 2.0),
        ("transistor-12v", TWELVE, 3.0, 5.0),
        ("points-6v", SIX, 1.5, 4.0),
    ],
)
def test_a_coil_is_compared_with_its_class_by_practice(
    coil_class: str, system: System, inside: float, outside: float
) -> None:
    assert coil(inside, coil_class, system).verdict is Verdict.GOOD
    judged = coil(outside, coil_class, system)
    assert judged.verdict is Verdict.LOOK_FURTHER
    assert judged.limit.source.confidence is Confidence.LOW


def test_only_an_open_winding_is_a_fault() -> None:
    assert coil(0.0).verdict is Verdict.LOOK_FURTHER
    assert coil("open").verdict is Verdict.FAULT
    assert coil(4.0, secondary_kohm="open").verdict is Verdict.FAULT
    assert coil(4.0, secondary_kohm=40).verdict is Verdict.LOOK_FURTHER
    assert coil(4.0, secondary_kohm=12).verdict is Verdict.GOOD


def test_a_good_reading_is_not_called_proof() -> None:
    assert "proves little" in coil(4.0).remarks[0]


def test_the_current_with_the_points_shut_follows() -> None:
    # V10 (calc H): 12.6 V on 4 Ω 3.15 A, on 3 Ω 4.2 A.
    assert primary_amps(4, 12.6) == pytest.approx(3.15)
    assert primary_amps(3, 12.6) == pytest.approx(4.2)
    assert coil(4.0).numbers[0].value == pytest.approx(3.15)


def test_there_is_no_class_of_coils_for_twenty_four_volts() -> None:
    with pytest.raises(HarnessError, match="there for 6 V or 12 V"):
        coil(4.0, system=TWENTY_FOUR)


def test_a_six_volt_coil_is_no_choice_on_a_twelve_volt_bike() -> None:
    with pytest.raises(HarnessError, match="none of the choices"):
        coil(1.5, "points-6v", TWELVE)
