"""The bench page in the browser: with htmx a part is swapped, without it all works."""

import json

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from diagnostics.actions.cases import give_up_case
from diagnostics.actions.findings import record_complaint
from diagnostics.models import Belief, Case, Finding, FindingVoid
from shop.models import User
from tests.builders import MORNING, FrontDeskFactory, UserFactory
from tests.diagnostics.builders import (
    DEAD_HORN,
    HORN,
    a_case,
    a_case_with_complaint,
    eye,
)

pytestmark = pytest.mark.django_db


def client_of(person: User | None = None) -> Client:
    client = Client()
    client.force_login(
        person or UserFactory.create(),
        backend="allauth.account.auth_backends.AuthenticationBackend",
    )
    return client


TAP = {
    "key": "tap",
    "tool": "test-lamp",
    "probe": "horn.1",
    "clip": "frame.battery",
    "rig": json.dumps(HORN),
    "reads": "lit",
}


def test_a_new_case_asks_for_the_complaint_first() -> None:
    case = a_case()
    page = client_of().get(f"/bench/{case.pk}/").content.decode()
    assert "First, the complaint" in page
    assert f"/bench/{case.pk}/complaint/" in page


def test_the_page_shows_test_verdicts_and_findings() -> None:
    case = a_case_with_complaint()
    page = client_of().get(f"/bench/{case.pk}/").content.decode()
    for words in (
        "Next test",
        "What it would mean",
        "Most likely",
        "Standing feed",
        "Switched feed",
        "Consumers",
        "Return",
        "Findings",
    ):
        assert words in page, words
    order = [page.index(f">{name}</h3>") for name in ("Standing feed", "Return")]
    assert order == sorted(order)


def test_drawing_the_page_asks_nothing_beyond_what_the_selector_asked() -> None:
    case = a_case_with_complaint()
    client = client_of()
    client.get(f"/bench/{case.pk}/")
    with CaptureQueriesContext(connection) as queries:
        client.get(f"/bench/{case.pk}/")
    # Session and user, the running clock, then the selector's own.
    assert len(queries) <= 9


def test_a_tap_without_scripts_leads_back_to_the_bench_with_an_undo() -> None:
    case = a_case_with_complaint()
    client = client_of()
    answer = client.post(f"/bench/{case.pk}/advised/", TAP, follow=True)
    finding = Finding.objects.of_case(case.pk).get(sequence=4)
    assert answer.redirect_chain == [(f"/bench/{case.pk}/?taken={finding.pk}", 302)]
    page = answer.content.decode()
    assert "undo-bar" in page
    assert f"/bench/findings/{finding.pk}/undo/" in page
    client.post(f"/bench/findings/{finding.pk}/undo/")
    assert FindingVoid.objects.get().finding == finding
    page = client.get(f"/bench/{case.pk}/?taken={finding.pk}").content.decode()
    assert "undo-bar" not in page


def test_a_tap_with_scripts_is_answered_with_the_part_alone() -> None:
    case = a_case_with_complaint()
    answer = client_of().post(
        f"/bench/{case.pk}/advised/", TAP, headers={"HX-Request": "true"}
    )
    page = answer.content.decode()
    assert answer.status_code == 200
    assert "<html" not in page
    assert "undo-bar" in page


def test_the_same_tap_twice_is_one_finding() -> None:
    case = a_case_with_complaint()
    client = client_of()
    for _ in range(2):
        client.post(f"/bench/{case.pk}/advised/", TAP)
    assert Finding.objects.of_case(case.pk).count() == 4


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"reads": "twelve", "tool": "voltmeter"}, "is not a number"),
        ({"rig": "{"}, "load the page again"),
        ({"rig": "[1]"}, "load the page again"),
        ({"rig": '{"key-switch": "SIDEWAYS"}'}, "no position"),
        ({"probe": "horn.9"}, "no terminal"),
        ({"key": ""}, "no key of its own"),
        ({"tool": "spade"}, "no tool"),
        ({"tool": "ammeter", "reads": "1"}, "which wire"),
        ({"tool": "ammeter", "wire": "99", "reads": "1"}, "no wire"),
    ],
)
def test_a_crooked_tap_is_told_on_the_page_and_changes_nothing(
    change: dict[str, str], words: str
) -> None:
    case = a_case_with_complaint()
    client = client_of()
    answer = client.post(
        f"/bench/{case.pk}/advised/", {**TAP, **change}, headers={"HX-Request": "true"}
    )
    assert answer.status_code == 200
    assert words in answer.content.decode()
    plain = client.post(f"/bench/{case.pk}/advised/", {**TAP, **change}, follow=True)
    assert words in plain.content.decode()
    assert Finding.objects.of_case(case.pk).count() == 3


def test_a_meter_takes_a_comma() -> None:
    case = a_case_with_complaint()
    client_of().post(
        f"/bench/{case.pk}/advised/", {**TAP, "tool": "voltmeter", "reads": "12,4"}
    )
    assert Finding.objects.of_case(case.pk).get(sequence=4).reads == "12.4"


def test_a_tap_while_the_loom_is_moved_is_marked_so_everywhere() -> None:
    case = a_case_with_complaint()
    client = client_of()
    page = client.get(f"/bench/{case.pk}/").content.decode()
    assert 'name="moving" value="yes"' in page
    client.post(f"/bench/{case.pk}/advised/", {**TAP, "moving": "yes"})
    assert Finding.objects.of_case(case.pk).get(sequence=4).moving is True
    page = client.get(f"/bench/{case.pk}/").content.decode()
    assert "while the loom was moved" in page
    # The same tap, but without the mark, is another test: the key stands for the first.
    again = client.post(f"/bench/{case.pk}/advised/", TAP, follow=True)
    assert "sent before" in again.content.decode()


def test_a_clamp_is_taken_by_a_tap() -> None:
    case = a_case_with_complaint()
    tap = {"key": "clamp", "tool": "ammeter", "wire": "3", "rig": json.dumps(HORN)}
    client_of().post(f"/bench/{case.pk}/advised/", {**tap, "reads": "2,4"})
    finding = Finding.objects.of_case(case.pk).get(sequence=4)
    assert (finding.tool, finding.wire, finding.reads) == ("ammeter", "3", "2.4")


def test_the_front_desk_sees_the_bench_and_cannot_tap() -> None:
    case = a_case_with_complaint()
    client = client_of(FrontDeskFactory.create())
    page = client.get(f"/bench/{case.pk}/").content.decode()
    assert "Next test" in page
    assert 'name="reads"' not in page
    assert client.post(f"/bench/{case.pk}/advised/", TAP).status_code == 403


def test_a_stranger_is_asked_to_sign_in() -> None:
    case = a_case_with_complaint()
    answer = Client().get(f"/bench/{case.pk}/")
    assert (answer.status_code, "/account/login/" in answer["location"]) == (302, True)


@pytest.mark.parametrize("number", [0, 10**9, 10**30])
def test_a_bench_that_is_not_there_is_not_found(number: int) -> None:
    client = client_of()
    for page in ("", "complaint/", "finding/", "repair/", "belief/", "give-up/"):
        assert client.get(f"/bench/{number}/{page}").status_code == 404, page
    assert client.post(f"/bench/{number}/advised/", TAP).status_code == 404
    assert client.get(f"/bench/findings/{number}/void/").status_code == 404


def test_a_finding_is_voided_with_a_reason_and_put_back() -> None:
    case = a_case_with_complaint()
    client = client_of()
    finding = Finding.objects.of_case(case.pk).get(sequence=2)
    path = f"/bench/findings/{finding.pk}"
    assert "Void finding 2" in client.get(f"{path}/void/").content.decode()
    assert "required" in client.post(f"{path}/void/", {"reason": ""}).content.decode()
    assert FindingVoid.objects.count() == 0
    client.post(f"{path}/void/", {"reason": "Brake was not pressed."})
    page = client.get(f"/bench/{case.pk}/").content.decode()
    assert "Brake was not pressed." in page
    client.post(f"{path}/put-back/", {"key": "back"})
    assert Finding.objects.of_case(case.pk).counted().count() == 3


def test_giving_up_and_reopening_ask_why() -> None:
    case = a_case_with_complaint()
    client = client_of()
    for verb, state in (("give-up", "given-up"), ("reopen", "open")):
        path = f"/bench/{case.pk}/{verb}/"
        assert client.get(path).status_code == 200
        assert client.post(path, {"reason": ""}).status_code == 200
        client.post(path, {"reason": "As agreed with the owner."})
        case.refresh_from_db()
        assert case.state == state


def test_a_move_that_is_not_possible_now_says_so() -> None:
    case = a_case_with_complaint()
    answer = client_of().post(f"/bench/{case.pk}/prove/")
    assert answer.status_code == 409
    assert "Record the repair first" in answer.content.decode()


def test_the_board_tells_what_wants_something() -> None:
    client = client_of()
    assert "No fault hunt is open" in client.get("/bench/").content.decode()
    person = UserFactory.create()
    case = a_case(person)
    page = client.get("/bench/").content.decode()
    assert "Horn dead" in page
    give_up_case(case_id=case.pk, reason="Sold.", acting_user=person, at=MORNING)
    assert "Given up" in client.get("/bench/").content.decode()


def test_the_replay_steps_back_and_forth() -> None:
    case = a_case_with_complaint()
    client = client_of()
    page = client.get(f"/bench/{case.pk}/belief/?step=2").content.decode()
    assert 'href="?step=1"' in page
    assert 'href="?step=3"' in page
    for odd in ("", "x", "-1", "9" * 40, "²"):
        assert client.get(f"/bench/{case.pk}/belief/?step={odd}").status_code == 200
    assert client.get(f"/bench/{case.pk}/belief/?step=77").status_code == 404


def test_an_odd_number_in_the_address_does_no_harm() -> None:
    case: Case = a_case_with_complaint()
    client = client_of()
    for odd in ("x", "-1", "9" * 40, "²", ""):
        assert client.get(f"/bench/{case.pk}/?taken={odd}").status_code == 200


def belief_with(case: Case, **columns: object) -> None:
    """Give a case a further belief, as the engine might hold it."""
    row = Belief.objects.of_case(case.pk).get(step=3)
    for name, value in {**columns, "pk": None, "step": 4, "finding": None}.items():
        setattr(row, name, value)
    row._state.adding = True
    row.save()
    Case.objects.filter(pk=case.pk).update(step=4)


def test_when_testing_on_is_worth_less_the_part_may_be_changed_now() -> None:
    case = a_case_with_complaint()
    figures = {"probability": 0.8, "waste": 2.0, "hunt_cost": 30.0}
    money = {"hourly_rate": "60.00", "currency": "EUR"}
    said = {"stop": True, "segment": "device:horn", **figures, **money}
    client = client_of()
    assert "Change it now?" not in client.get(f"/bench/{case.pk}/").content.decode()
    belief_with(case, stopping=said)
    page = client.get(f"/bench/{case.pk}/").content.decode()
    assert "Change it now?" in page
    assert "Testing on would cost about EUR 30" in page


def test_what_was_found_may_want_one_more_test() -> None:
    case = a_case_with_complaint()
    row = Belief.objects.of_case(case.pk).get(step=3)
    found = {"segments": ["wire:5"], "groups": [["wire:5"]], "probability": 0.97}
    belief_with(case, advice=[], isolated=found, confirming=row.advice[0])
    page = client_of().get(f"/bench/{case.pk}/").content.decode()
    assert page.index(">Found<") < page.index("To be sure")
    assert 'value="' in page
    assert "-sure" in page


def test_a_conflict_is_told_with_its_doubts_and_settled_by_a_tap() -> None:
    person = UserFactory.create()
    case = a_case(person)
    eyes = [eye("horn", "works", HORN), *DEAD_HORN[1:]]
    record_complaint(
        case_id=case.pk, eyes=eyes, key="all", acting_user=person, at=MORNING
    )
    client = client_of(person)
    # The horn works, and yet no current comes to it: somebody looked wrongly.
    client.post(f"/bench/{case.pk}/advised/", {**TAP, "reads": "dark"})
    page = client.get(f"/bench/{case.pk}/").content.decode()
    assert "These findings do not fit together" in page
    assert "was misread" in page
    assert "What settles it" in page
    assert "-settle" in page
