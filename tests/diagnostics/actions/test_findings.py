"""Findings are taken once, in order, and each leaves the belief that followed."""

from typing import Any

import pytest

from diagnostics.actions.findings import (
    put_back_finding,
    record_complaint,
    record_finding,
    record_retest,
)
from diagnostics.actions.voids import void_finding
from diagnostics.convert import FindingEntry
from diagnostics.lifecycle import Origin
from diagnostics.models import Belief, Case, Finding
from shop.domain.refusals import IllegalMove, NotAllowed, NotFound, Refusal
from shop.models import HistoryEntry
from tests.builders import MORNING, FrontDeskFactory, UserFactory
from tests.diagnostics.builders import (
    DEAD_HORN,
    HORN,
    a_case,
    a_case_with_complaint,
    a_repaired_case,
    eye,
    lamp,
)

pytestmark = pytest.mark.django_db


def take(case: Case, entry: FindingEntry, key: str = "tap", **changes: Any) -> Finding:
    given = {
        "case_id": case.pk,
        "entry": entry,
        "origin": Origin.FREE,
        "key": key,
        "acting_user": changes.pop("by", None) or UserFactory.create(),
        "at": MORNING,
        **changes,
    }
    return record_finding(**given)


def test_a_complaint_is_taken_down_in_one_go() -> None:
    case = a_case_with_complaint()
    found = list(Finding.objects.of_case(case.pk))
    assert [(row.sequence, row.device, row.reads) for row in found] == [
        (1, "horn", "dead"),
        (2, "rear-lamp.stop", "works"),
        (3, "rear-lamp.tail", "works"),
    ]
    assert {row.origin for row in found} == {"complaint"}
    assert (case.step, case.findings_taken) == (3, 3)


def test_each_finding_leaves_the_belief_that_followed_it() -> None:
    case = a_case_with_complaint()
    beliefs = list(Belief.objects.of_case(case.pk))
    assert [belief.step for belief in beliefs] == [0, 1, 2, 3]
    assert [b.finding.sequence if b.finding else None for b in beliefs] == [
        None,
        1,
        2,
        3,
    ]
    last = beliefs[-1]
    assert last.segments["fuse:main-fuse"]["verdict"] == "sound"
    assert last.segments["wire:5"]["verdict"] == "suspect"
    assert last.advice
    assert last.conflict is None
    # Advice on the way is history at once and is not worked out.
    assert beliefs[1].advice == []


def test_a_test_lamp_that_lights_clears_the_feed_before_it() -> None:
    case = a_case_with_complaint()
    take(case, lamp("horn.2", "lit"))
    segments = Belief.objects.of_case(case.pk).latest("step").segments
    assert segments["wire:3"]["probability"] < 0.01
    assert segments["device:horn"]["probability"] < 0.01
    assert segments["wire:5"]["verdict"] == "suspect"


def test_the_clip_is_stored_even_where_nobody_said_it() -> None:
    case = a_case()
    assert take(case, lamp("horn.1", "lit")).clip.startswith("frame.")


def test_the_same_tap_sent_twice_is_one_finding() -> None:
    case = a_case_with_complaint()
    first = take(case, lamp("horn.1", "lit"))
    again = take(case, lamp("horn.1", "lit"))
    assert first.pk == again.pk
    assert Finding.objects.of_case(case.pk).count() == 4
    assert Belief.objects.of_case(case.pk).count() == 5


def test_the_same_tap_with_another_reading_is_told_so() -> None:
    case = a_case()
    take(case, lamp("horn.1", "lit"))
    with pytest.raises(Refusal) as refused:
        take(case, lamp("horn.1", "dark"))
    assert refused.value.code == "key-used"
    assert Finding.objects.of_case(case.pk).count() == 1


def test_a_complaint_sent_twice_is_one_complaint() -> None:
    case = a_case_with_complaint()
    record_complaint(
        case_id=case.pk,
        eyes=DEAD_HORN,
        key="complaint",
        acting_user=UserFactory.create(),
        at=MORNING,
    )
    assert Finding.objects.of_case(case.pk).count() == 3


@pytest.mark.parametrize(
    "entry",
    [
        FindingEntry(tool="test-lamp", probe="hron.1", rig=HORN, reads="lit"),
        FindingEntry(tool="test-lamp", probe="horn.9", rig=HORN, reads="lit"),
        FindingEntry(
            tool="test-lamp", probe="frame.rear", clip="frame.battery", reads="dark"
        ),
        FindingEntry(tool="ohmmeter", probe="horn.1", rig={}, reads="0.4"),
        FindingEntry(tool="eye", device="frame", rig={}, reads="works"),
        FindingEntry(tool="eye", device="horn", rig={"key": "ON"}, reads="works"),
        FindingEntry(tool="eye", device="horn", rig={"key-switch": 1}, reads="works"),
        FindingEntry(tool="eye", device="horn", rig={"jumpers": 5}, reads="works"),
        FindingEntry(tool="eye", device="horn", rig={}, reads="intact"),
        FindingEntry(tool="voltmeter", probe="horn.1", rig=HORN, reads="900"),
    ],
)
def test_a_finding_that_nobody_can_have_taken_changes_nothing(
    entry: FindingEntry,
) -> None:
    case = a_case()
    with pytest.raises(Refusal):
        take(case, entry)
    assert Finding.objects.of_case(case.pk).count() == 0
    assert Case.objects.get(pk=case.pk).step == 0


def test_one_bad_line_of_a_complaint_takes_nothing_down() -> None:
    case = a_case()
    with pytest.raises(Refusal):
        record_complaint(
            case_id=case.pk,
            eyes=[*DEAD_HORN, eye("klaxon", "dead", HORN)],
            key="complaint",
            acting_user=UserFactory.create(),
            at=MORNING,
        )
    assert Finding.objects.count() == 0
    assert Belief.objects.of_case(case.pk).count() == 1


@pytest.mark.parametrize(
    ("eyes", "code"),
    [([], "complaint-empty"), ([lamp("horn.1", "lit")], "complaint-not-by-eye")],
)
def test_a_complaint_is_what_was_seen_or_heard(
    eyes: list[FindingEntry], code: str
) -> None:
    case = a_case()
    with pytest.raises(Refusal) as refused:
        record_complaint(
            case_id=case.pk,
            eyes=eyes,
            key="complaint",
            acting_user=UserFactory.create(),
            at=MORNING,
        )
    assert refused.value.code == code


def test_the_history_of_the_work_order_tells_of_each_finding() -> None:
    case = a_case_with_complaint()
    take(case, lamp("horn.1", "lit"))
    summaries = [
        entry.summary
        for entry in HistoryEntry.objects.of_work_order(
            case.work_order_id
        ).latest_first()
    ]
    assert any("Findings 1 to 3 taken" in summary for summary in summaries)
    assert any("Finding 4" in summary and "lit" in summary for summary in summaries)


def test_the_front_desk_takes_no_findings() -> None:
    case = a_case()
    with pytest.raises(NotAllowed):
        take(case, lamp("horn.1", "lit"), by=FrontDeskFactory.create())


def test_a_finding_on_no_case_is_not_found() -> None:
    with pytest.raises(NotFound):
        record_finding(
            case_id=10**12,
            entry=lamp("horn.1", "lit"),
            origin=Origin.FREE,
            key="tap",
            acting_user=UserFactory.create(),
            at=MORNING,
        )


@pytest.mark.parametrize("key", ["", "  ", "x" * 101, "a\x00b"])
def test_a_tap_without_a_usable_key_is_refused(key: str) -> None:
    with pytest.raises(Refusal) as refused:
        take(a_case(), lamp("horn.1", "lit"), key=key)
    assert refused.value.code == "key-missing"


@pytest.mark.parametrize("origin", [Origin.COMPLAINT, Origin.RETEST])
def test_complaints_and_retests_have_doors_of_their_own(origin: Origin) -> None:
    with pytest.raises(Refusal) as refused:
        take(a_case(), lamp("horn.1", "lit"), origin=origin)
    assert refused.value.code == "origin-unknown"


def test_a_voided_finding_is_put_back_as_a_new_one() -> None:
    case = a_case_with_complaint()
    wrong = take(case, lamp("horn.1", "lit"))
    person = UserFactory.create()
    void_finding(
        finding_id=wrong.pk, reason="Wrong wire.", acting_user=person, at=MORNING
    )
    back = put_back_finding(
        finding_id=wrong.pk, key="back", acting_user=person, at=MORNING
    )
    assert (back.sequence, back.reads, back.probe) == (5, "lit", "horn.1")
    assert back.note == "Put back finding 4."
    with pytest.raises(Refusal) as refused:
        put_back_finding(
            finding_id=back.pk, key="back-2", acting_user=person, at=MORNING
        )
    assert refused.value.code == "finding-stands"


def test_after_a_repair_only_its_proof_is_taken() -> None:
    case = a_repaired_case()
    with pytest.raises(IllegalMove):
        take(case, lamp("horn.1", "lit"))


def retake(finding: Finding, reads: str, key: str = "again") -> Finding:
    return record_retest(
        finding_id=finding.pk,
        reads=reads,
        key=key,
        acting_user=UserFactory.create(),
        at=MORNING,
    )


def test_a_retest_repeats_the_test_on_the_repaired_loom() -> None:
    case = a_repaired_case()
    failed = Finding.objects.of_case(case.pk).get(sequence=1)
    again = retake(failed, "works")
    assert (again.device, again.rig, again.origin) == ("horn", HORN, "retest")
    assert (again.retest_of_id, again.repairs_before) == (failed.pk, 1)


def test_belief_starts_afresh_on_the_repaired_loom() -> None:
    case = a_repaired_case()
    retake(Finding.objects.of_case(case.pk).get(sequence=1), "works")
    belief = Belief.objects.of_case(case.pk).latest("step")
    assert belief.segments["wire:3"]["verdict"] == "sound"
    assert belief.segments["wire:3"]["proof"] == ["finding 4"]


def test_what_was_taken_after_the_repair_is_not_its_own_proof() -> None:
    case = a_repaired_case()
    again = retake(Finding.objects.of_case(case.pk).get(sequence=1), "works")
    with pytest.raises(Refusal) as refused:
        retake(again, "works", key="more")
    assert refused.value.code == "finding-not-before-the-repair"


def test_a_voided_finding_is_not_taken_again() -> None:
    case = a_repaired_case()
    finding = Finding.objects.of_case(case.pk).get(sequence=1)
    void_finding(
        finding_id=finding.pk,
        reason="It was the neighbour's horn.",
        acting_user=UserFactory.create(),
        at=MORNING,
    )
    with pytest.raises(Refusal) as refused:
        retake(finding, "works")
    assert refused.value.code == "finding-voided"
