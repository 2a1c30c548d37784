"""What the report says, before it is printed."""

from decimal import Decimal
from typing import Any

import pytest
from pytest_django import DjangoAssertNumQueries

from shop import seams
from shop.domain.bikes import EarthPolarity
from shop.domain.refusals import NotFound
from shop.paper.current import current_report
from shop.paper.words import BATTERY_GAS, FUSES, LAWS, ROADWORTHINESS, TAX, cautions
from tests.builders import MORNING, LabourLineFactory, UserFactory
from tests.shop.paper_room import order_with_work

pytestmark = pytest.mark.django_db


def blocks_of(content: dict[str, Any], key: str, kind: str) -> list[dict[str, Any]]:
    section = next(s for s in content["sections"] if s["key"] == key)
    return [block for block in section["blocks"] if block["kind"] == kind]


def said() -> dict[str, Any]:
    return current_report(work_order_id=order_with_work().pk).content


def test_shop_and_customer_stand_at_the_head() -> None:
    content = said()
    assert content["shop"]["name"] == "The Lamp Room"
    assert content["shop"]["lines"] == [
        "12 Foundry Yard",
        "Old Harbour",
        "Telephone 0555 010 999",
        "Tax number OH 77",
    ]
    assert content["customer"]["name"] == "Ottilie Marsh"


def test_the_bike_is_named_by_its_numbers_and_its_electrics() -> None:
    (facts,) = blocks_of(said(), "machine", "facts")
    rows = {row["name"]: row["value"] for row in facts["rows"]}
    assert rows["Maker and model"] == "Tarnfell Heron 350"
    assert rows["Year"] == "1961"
    assert rows["Frame number"] == "H35/0042"
    assert rows["Engine number"] == "0042 E"
    assert rows["Electrics"] == "12 V, positive earth"


def test_the_complaint_is_in_the_customers_own_words() -> None:
    (quote,) = blocks_of(said(), "machine", "quote")
    assert quote["text"] == (
        "Head lamp dies over bumps.\nHorn croaks & the dash <glows>."
    )
    assert quote["source"] == "The customer's words, booked in on 2 March 2026"


def test_labour_is_listed_line_by_line_with_its_sum() -> None:
    (table,) = blocks_of(said(), "work", "table")
    assert [[cell["text"] for cell in row] for row in table["rows"]] == [
        [
            "2 Mar 2026",
            "Traced the feed to the head lamp",
            table["rows"][0][2]["text"],
            "1 h 35 min",
            "€54.00",
            "20%",
            "€85.50",
        ]
    ]
    assert [cell["text"] for cell in table["foot"]][-1] == "€85.50"


def test_each_part_carries_its_condition() -> None:
    (table,) = blocks_of(said(), "parts", "table")
    rows = [[cell["text"] for cell in row] for row in table["rows"]]
    assert [row[2:] for row in rows] == [
        ["New", "0.4 each", "€0.85", "20%", "€0.34"],
        ["New old stock", "2 each", "€0.85", "5%", "€1.70"],
    ]


def test_tax_is_shown_by_rate_and_adds_up_to_the_total() -> None:
    # Tax once per rate on the net sum: EN 16931 BR-CO-17 (X16).
    # 20 % on 85.50 + 0.34 = 85.84 is 17.168, so 17.17; 5 % on 1.70 is 0.085: 0.09.
    (sums,) = blocks_of(said(), "sums", "sums")
    assert [(row["name"], row["value"]) for row in sums["rows"]] == [
        ("Net", "€87.54"),
        ("Standard 20% on €85.84", "€17.17"),
        ("Standard 5% on €1.70", "€0.09"),
        ("Tax", "€17.26"),
    ]
    assert sums["total"] == {"name": "Total, tax included", "value": "€104.80"}


def test_what_was_agreed_stands_beside_the_sums() -> None:
    order = order_with_work()
    order.estimate_amount = Decimal(120)
    order.approved_amount = Decimal(110)
    order.approved_by_name = "Ottilie Marsh"
    order.approved_how = "by telephone"
    order.approved_at = MORNING
    order.save()
    content = current_report(work_order_id=order.pk).content
    (agreed,) = blocks_of(content, "sums", "facts")
    assert [(row["name"], row["value"]) for row in agreed["rows"]] == [
        ("Estimate", "€120.00"),
        ("Approved", "€110.00 by Ottilie Marsh on 2 March 2026 (by telephone)"),
    ]


def test_what_was_voided_is_neither_listed_nor_charged() -> None:
    order = order_with_work()
    before = current_report(work_order_id=order.pk)
    LabourLineFactory.create(
        work_order=order,
        minutes=600,
        voided_at=MORNING,
        voided_by=UserFactory.create(),
        void_reason="Booked on the wrong job",
    )
    assert current_report(work_order_id=order.pk).digest == before.digest


def test_cautions_and_the_lines_that_defer_to_others_are_always_there() -> None:
    content = said()
    texts = [block["text"] for block in blocks_of(content, "limits", "caution")]
    assert texts == list(cautions(EarthPolarity.POSITIVE))
    assert "the positive one, first" in texts[0]  # Z4: the lead that goes to the frame
    assert texts[1:] == [FUSES, BATTERY_GAS]
    (deferrals,) = blocks_of(content, "limits", "bullets")
    assert deferrals["points"] == [ROADWORTHINESS, TAX, LAWS]


def test_the_earthed_lead_is_the_negative_one_on_a_negative_earth_bike() -> None:
    assert "the negative one, first" in cautions(EarthPolarity.NEGATIVE)[0]


def test_a_caution_that_stands_at_a_step_is_not_said_again_at_the_end() -> None:
    order = order_with_work()

    def bench(*, work_order_id: int) -> tuple[seams.ReportSection, ...]:
        caution = seams.Caution("Never fit a larger fuse, whatever they say.")
        return (seams.ReportSection("case", "Found", 30, (caution,)),)

    seams.registry.register_sections("test-caution", bench)
    try:
        content = current_report(work_order_id=order.pk).content
    finally:
        seams.registry.unregister("test-caution")
    texts = [block["text"] for block in blocks_of(content, "limits", "caution")]
    assert FUSES not in texts
    assert BATTERY_GAS in texts


def test_sections_of_others_stand_at_their_place() -> None:
    order = order_with_work()

    def found(*, work_order_id: int) -> tuple[seams.ReportSection, ...]:
        assert work_order_id == order.pk
        blocks = (
            seams.Heading("Findings in order"),
            seams.Paragraph("Fuse 2 is open."),
            seams.BulletList(("one", "two")),
            seams.Table("Findings", ("No.", "Test"), (("1", "at fuse 2"),), (0,)),
            seams.Caution("Battery isolated first."),
        )
        return (seams.ReportSection("case", "What was found", 30, blocks),)

    seams.registry.register_sections("test-case", found)
    try:
        content = current_report(work_order_id=order.pk).content
    finally:
        seams.registry.unregister("test-case")
    keys = [section["key"] for section in content["sections"] if section["key"]]
    assert keys == ["machine", "case", "work", "parts", "sums", "limits"]
    case = content["sections"][1]
    assert [block["kind"] for block in case["blocks"]] == [
        "heading",
        "paragraph",
        "bullets",
        "table",
        "caution",
    ]
    assert case["blocks"][3]["rows"][0][0] == {"text": "1", "look": "number"}


def test_the_digest_follows_the_facts() -> None:
    order = order_with_work()
    first = current_report(work_order_id=order.pk)
    assert current_report(work_order_id=order.pk).digest == first.digest
    order.complaint = "Another complaint."
    order.save()
    assert current_report(work_order_id=order.pk).digest != first.digest


def test_a_report_is_read_in_few_queries_whatever_its_length(
    django_assert_max_num_queries: DjangoAssertNumQueries,
) -> None:
    order = order_with_work()
    LabourLineFactory.create_batch(20, work_order=order)
    with django_assert_max_num_queries(8):
        current_report(work_order_id=order.pk)


def test_a_work_order_that_is_not_there_has_no_report() -> None:
    with pytest.raises(NotFound):
        current_report(work_order_id=12345)
