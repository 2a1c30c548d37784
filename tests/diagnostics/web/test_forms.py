"""Opening, complaint, free finding, repair and proof, by plain forms."""

import pytest
from django.test import Client

from diagnostics.models import Case, Finding, Repair
from tests.diagnostics.builders import (
    HORN,
    TAIL,
    a_case,
    a_case_with_complaint,
    a_library_file,
    a_repaired_case,
    a_work_order,
)
from tests.diagnostics.web.test_bench import client_of

pytestmark = pytest.mark.django_db


def key_in(page: str) -> str:
    return page.split('name="key" value="')[1].split('"', maxsplit=1)[0]


def test_a_case_is_opened_from_the_work_order_and_asks_for_the_complaint() -> None:
    file = a_library_file()
    order = a_work_order()
    client = client_of()
    path = f"/bench/open/{order.pk}/"
    page = client.get(path).content.decode()
    assert order.complaint in page
    assert "checked" in page
    assert "Open the case" in client.post(path, {"title": ""}).content.decode()
    answer = client.post(path, {"title": "Horn dead", "harness_file_id": str(file.pk)})
    case = Case.objects.get()
    assert answer["location"] == f"/bench/{case.pk}/complaint/"
    for odd in ("", "77", "x"):
        again = client.post(path, {"title": "Horn", "harness_file_id": odd})
        assert again.status_code == 200
    assert Case.objects.count() == 1


def test_without_a_fitting_drawing_the_page_says_what_to_do() -> None:
    page = client_of().get(f"/bench/open/{a_work_order().pk}/").content.decode()
    assert "No drawing in the library fits" in page
    assert "/drawings/add/" in page


def test_the_complaint_is_entered_by_big_radio_buttons() -> None:
    case = a_case()
    client = client_of()
    path = f"/bench/{case.pk}/complaint/"
    page = client.get(path).content.decode()
    assert "Horn button held at PRESSED, key switch to ON" in page
    said = {
        "key": key_in(page),
        "reads-horn": "dead",
        "reads-rear-lamp.tail": "works",
        "reads-rear-lamp.stop": "",
    }
    answer = client.post(path, said)
    assert answer["location"] == f"/bench/{case.pk}/"
    found = [(row.device, row.reads) for row in Finding.objects.of_case(case.pk)]
    assert found == [("horn", "dead"), ("rear-lamp.tail", "works")]


def test_a_complaint_that_says_nothing_keeps_the_page() -> None:
    case = a_case()
    client = client_of()
    path = f"/bench/{case.pk}/complaint/"
    page = client.post(path, {"key": "k"}).content.decode()
    assert "Nothing was tried yet" in page
    page = client.post(path, {"key": "k", "reads-horn": "loud"}).content.decode()
    assert "is no reading of this tool" in page
    assert Finding.objects.count() == 0


def test_what_was_said_before_a_refusal_is_kept() -> None:
    case = a_case()
    page = client_of().post(
        f"/bench/{case.pk}/complaint/",
        {"key": "k", "reads-horn": "dead", "reads-rear-lamp.tail": "loud"},
    )
    assert 'name="reads-horn" value="dead" checked' in page.content.decode()


def enter(client: Client, case: Case, tool: str, **fields: object) -> str:
    path = f"/bench/{case.pk}/finding/?tool={tool}"
    page = client.get(path).content.decode()
    plain = {
        "key": key_in(page),
        "switch-key-switch": "OFF",
        "switch-horn-button": "OUT",
        "switch-brake-switch": "OUT",
        "battery-lead": "on",
        **fields,
    }
    return client.post(path, plain, follow=True).content.decode()


def test_any_finding_is_entered_freely() -> None:
    case = a_case_with_complaint()
    client = client_of()
    enter(
        client,
        case,
        "test-lamp",
        probe="horn.1",
        clip="",
        reads="lit",
        **{"switch-key-switch": "ON", "switch-horn-button": "PRESSED"},
    )
    enter(
        client,
        case,
        "ohmmeter",
        probe="horn.1",
        clip="horn.2",
        reads="4,8",
        removed=["main-fuse"],
        unplugged=["tail-plug"],
        note="Cold.",
        **{"battery-lead": "off"},
    )
    enter(
        client,
        case,
        "eye",
        device="rear-lamp.tail",
        reads="works",
        **{"switch-key-switch": "ON"},
    )
    enter(
        client,
        case,
        "ammeter",
        wire="gybk",
        reads="0,02",
        moving="yes",
        pulled="horn.1",
        jumper_from="key-switch.15",
        jumper_to="horn.2",
        **{"switch-key-switch": "ON"},
    )
    lamp, meter, eye, clamp = Finding.objects.of_case(case.pk).filter(origin="free")
    assert (lamp.rig, lamp.reads, lamp.clip) == (HORN, "lit", "frame.battery")
    assert meter.rig == {
        "battery-lead": "off",
        "removed": ["main-fuse"],
        "unplugged": ["tail-plug"],
    }
    assert (meter.reads, meter.note) == ("4.8", "Cold.")
    assert (eye.device, eye.rig) == ("rear-lamp.tail", TAIL)
    assert (clamp.wire, clamp.reads, clamp.moving) == ("4", "0.02", True)
    assert clamp.rig == {
        "key-switch": "ON",
        "unplugged": ["horn.1"],
        "jumpers": [["key-switch.15", "horn.2"]],
    }
    assert [row.moving for row in (lamp, meter, eye)] == [False] * 3


@pytest.mark.parametrize(
    ("tool", "fields", "words"),
    [
        ("test-lamp", {"probe": "hron.1", "reads": "lit"}, "no terminal"),
        ("test-lamp", {"probe": "", "reads": "lit"}, "required"),
        ("ohmmeter", {"probe": "horn.1", "reads": "4"}, "battery"),
        ("voltmeter", {"probe": "horn.1", "reads": "a lot"}, "is not a number"),
        ("eye", {"device": "", "reads": "dead"}, "required"),
        ("ammeter", {"wire": "", "reads": "2"}, "required"),
        ("ammeter", {"wire": "99", "reads": "2"}, "There is no wire"),
        ("ammeter", {"wire": "bn", "reads": "2"}, "Wires 5, 11 and 12 are all BN"),
        ("ammeter", {"wire": "3", "reads": "lots"}, "is not a number"),
        (
            "voltmeter",
            {"probe": "horn.1", "reads": "2", "jumper_from": "horn.1"},
            "other end of the jumper",
        ),
        (
            "voltmeter",
            {
                "probe": "horn.1",
                "reads": "2",
                "jumper_from": "battery.pos",
                "jumper_to": "frame.battery",
            },
            "never bridge both poles",
        ),
        (
            "voltmeter",
            {"probe": "horn.1", "reads": "2", "pulled": "hron.1"},
            "no device",
        ),
    ],
)
def test_an_impossible_finding_is_told_at_the_form_and_the_entry_is_kept(
    tool: str, fields: dict[str, str], words: str
) -> None:
    case = a_case_with_complaint()
    page = enter(client_of(), case, tool, **{"clip": "", **fields})
    assert words in page
    assert "error-summary" in page
    if probe := fields.get("probe"):
        assert f'value="{probe}"' in page
    assert Finding.objects.of_case(case.pk).count() == 3


def test_an_unknown_tool_falls_back_to_the_test_lamp() -> None:
    case = a_case_with_complaint()
    page = client_of().get(f"/bench/{case.pk}/finding/?tool=spade").content.decode()
    assert 'value="lit"' in page


def test_a_repair_is_recorded_with_the_likeliest_fault_ticked() -> None:
    case = a_case_with_complaint()
    client = client_of()
    path = f"/bench/{case.pk}/repair/"
    page = client.get(path).content.decode()
    assert "the earthed lead first, on this bike the negative one" in page
    assert "checked" in page
    assert "required" in client.post(path, {"key": "k", "done": ""}).content.decode()
    client.post(
        path,
        {
            "key": key_in(page),
            "done": "Earth wire renewed.",
            "segments": ["wire:5"],
            "another": "fuse:main-fuse",
            "mode": "open",
            "parts": "",
        },
    )
    repair = Repair.objects.get()
    assert repair.segments == ["wire:5", "fuse:main-fuse"]
    case.refresh_from_db()
    assert case.state == "repaired"


def test_the_failed_test_is_taken_again_and_the_case_closed() -> None:
    case = a_repaired_case()
    client = client_of()
    page = client.get(f"/bench/{case.pk}/").content.decode()
    assert "Proof of the repair" in page
    assert "All good: close as proven" not in page
    failed = Finding.objects.of_case(case.pk).get(sequence=1)
    path = f"/bench/findings/{failed.pk}/retest/"
    assert client.post(path, {"key": "a", "reads": "odd"}).status_code == 302
    page = client.post(
        path, {"key": "b", "reads": "dead"}, headers={"HX-Request": "true"}
    ).content.decode()
    assert "Still bad" in page
    assert "Reopen the case" in page
    answer = client.post(path, {"key": "c", "reads": "works"}, follow=True)
    assert "All good: close as proven" in answer.content.decode()
    client.post(f"/bench/{case.pk}/prove/")
    case.refresh_from_db()
    assert case.state == "proven"
    page = client.get(f"/bench/{case.pk}/").content.decode()
    assert "Good: reads as a healthy loom does" in page
