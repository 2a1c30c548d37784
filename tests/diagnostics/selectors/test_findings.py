"""Findings in words, in the order they were taken."""

import pytest

import harness
from diagnostics.actions.findings import record_finding
from diagnostics.actions.voids import void_finding
from diagnostics.convert import FindingEntry
from diagnostics.lifecycle import Origin
from diagnostics.models import Finding
from diagnostics.selectors.findings import complaint_words, finding_views
from tests.builders import MORNING, UserFactory
from tests.diagnostics.builders import BENCH_TOML, HORN, a_case_with_complaint

pytestmark = pytest.mark.django_db

H = harness.loads(BENCH_TOML, name="bench example")


def test_a_finding_is_told_in_words_with_who_and_why() -> None:
    person = UserFactory.create(first_name="Ada", last_name="Holm")
    case = a_case_with_complaint(person)
    record_finding(
        case_id=case.pk,
        entry=FindingEntry(
            tool="voltmeter",
            probe="horn.2",
            clip="frame.battery",
            rig=HORN,
            reads="-0,5",
            note="Meter on the 20 V range.",
        ),
        origin=Origin.ADVISED,
        key="tap",
        acting_user=person,
        at=MORNING,
    )
    view = finding_views(case_id=case.pk, h=H)[-1]
    assert view.sequence == 4
    assert view.where.startswith("Probe on horn, pin 2, clip on frame")
    assert view.reading == "\N{MINUS SIGN}0.5 V"
    assert view.rig_words == "Horn button held at PRESSED, key switch to ON"
    assert (view.origin_label, view.taken_by) == ("advised test", "Ada Holm")
    assert view.note == "Meter on the 20 V range."


def test_a_clamp_is_told_with_its_wire_and_that_the_loom_was_moved() -> None:
    case = a_case_with_complaint()
    record_finding(
        case_id=case.pk,
        entry=FindingEntry(tool="ammeter", wire="3", rig=HORN, reads="0", moving=True),
        origin=Origin.FREE,
        key="tap",
        acting_user=UserFactory.create(),
        at=MORNING,
    )
    view = finding_views(case_id=case.pk, h=H)[-1]
    assert view.where == (
        "Round wire 3 (blue, BU) from key switch, pin 15 to horn, pin 1"
    )
    assert (view.tool_label, view.reading) == ("Clamp meter", "0 A")
    assert view.rig_words == (
        "Horn button held at PRESSED, key switch to ON, while the loom was moved"
    )
    assert (view.wire, view.moving) == ("3", True)


def test_a_void_stands_beside_its_finding() -> None:
    case = a_case_with_complaint()
    finding = Finding.objects.of_case(case.pk).get(sequence=2)
    void_finding(
        finding_id=finding.pk,
        reason="Brake was not pressed.",
        acting_user=UserFactory.create(),
        at=MORNING,
    )
    views = finding_views(case_id=case.pk, h=H)
    assert [view.void is not None for view in views] == [False, True, False]
    assert views[1].void is not None
    assert views[1].void.reason == "Brake was not pressed."
    assert complaint_words(views) == "Horn dead, 1 works"
