"""The finished file, read back: for people, for screen readers, for checkers."""

import os
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from shop import seams
from shop.paper.current import current_report
from shop.paper.render import PaperError, count_pages, own_file, pdf_from_html
from shop.paper.sheets import page, stylesheet
from tests.rules.source import ROOT
from tests.shop.paper.reading import (
    fonts_of,
    opened,
    pages_of,
    qpdf_finds,
    tags_of,
    text_of,
)
from tests.shop.paper_room import order_with_work

ASKED_AT = datetime(2026, 3, 2, 9, 15, tzinfo=UTC)
LONG_WORD = "X" * 180


def printed(content: dict[str, Any]) -> bytes:
    html = page(content, asked_at=ASKED_AT)
    css = stylesheet(content["page_size"])
    return pdf_from_html(html, css=css, identifier=b"sixteen bytes id")


def findings(count: int) -> tuple[seams.ReportSection, ...]:
    rows = tuple(
        (
            str(n),
            "Head lamp on, key on",
            f"Test lamp from the earth post to fuse {n}",
            "dark",
        )
        for n in range(1, count + 1)
    )
    blocks = (
        seams.Heading("Findings in order"),
        seams.Table("Findings", ("No.", "Switches", "Test", "Reading"), rows, (0,)),
        seams.Paragraph(LONG_WORD),
        seams.Caution("Battery isolated, earthed lead first."),
    )
    return (seams.ReportSection("case", "What was found", 30, blocks),)


@pytest.fixture
def report_with(db: None) -> Iterator[Callable[[int], dict[str, Any]]]:
    order = order_with_work()

    def make(count: int) -> dict[str, Any]:
        def sections(*, work_order_id: int) -> tuple[seams.ReportSection, ...]:
            return findings(count) if work_order_id == order.pk else ()

        seams.registry.register_sections("test-findings", sections)
        return current_report(work_order_id=order.pk).content

    yield make
    seams.registry.unregister("test-findings")


def test_text_and_totals_are_read_back(
    report_with: Callable[[int], dict[str, Any]],
) -> None:
    text = text_of(printed(report_with(3)))
    for words in (
        "The Lamp Room",
        "Ottilie Marsh",
        "Tarnfell Heron 350",
        "H35/0042",
        "Horn croaks & the dash <glows>.",
        "Test lamp from the earth post to fuse 3",
        "Loom opened at the headstock",
        "New old stock",
        "Standard 20% on €85.84 €17.17",
        "Total, tax included €104.80",
        "is for the local authority and a licensed tester",
        "Laws on estimates, approvals and invoices differ by place",
        "Facts as they stood on",
        "Facts of 2 Mar 2026, 09:15",
    ):
        assert words in text, words


def test_every_page_is_numbered_and_says_what_it_belongs_to(
    report_with: Callable[[int], dict[str, Any]],
) -> None:
    content = report_with(120)
    pages = pages_of(printed(content))
    assert len(pages) > 4
    for number, text in enumerate(pages, start=1):
        assert f"Page {number} of {len(pages)}" in text
        assert "Facts of 2 Mar 2026, 09:15" in text
        if number > 1:
            assert f"{content['number']} · The Lamp Room" in text


def test_the_head_of_a_table_is_repeated_on_each_of_its_pages(
    report_with: Callable[[int], dict[str, Any]],
) -> None:
    pages = pages_of(printed(report_with(120)))
    with_rows = [text for text in pages if "to fuse" in text]
    assert len(with_rows) > 2
    for text in with_rows:
        assert re.search(r"No\.\s+Switches\s+Test\s+Reading", text)
    rows = re.findall(r"^\s*(\d+)\s+Head lamp on", "\n".join(pages), re.MULTILINE)
    assert rows == [str(n) for n in range(1, 121)]


@pytest.mark.parametrize("count", range(10, 42, 2))
def test_no_heading_and_no_single_row_is_left_at_the_foot_of_a_page(
    report_with: Callable[[int], dict[str, Any]], count: int
) -> None:
    titles = ("What was found", "What was done", "Parts", "Sums", "Cautions and limits")
    heads = ("No. Switches", "Day Work", "Number Part")
    for text in pages_of(printed(report_with(count))):
        lines = [" ".join(line.split()) for line in text.splitlines() if line.strip()]
        last = lines[-2]  # the very last is the foot of the page
        assert last not in titles
        assert last not in {"Findings", "Labour, without tax", "Parts, without tax"}
        assert not last.startswith(heads)


def test_the_file_is_tagged_titled_and_marked_as_pdf_ua(
    report_with: Callable[[int], dict[str, Any]],
) -> None:
    pdf = printed(report_with(40))
    with opened(pdf) as document:
        assert document.Root["/MarkInfo"]["/Marked"]
        assert str(document.Root["/Lang"]) == "en"
        assert document.Root["/ViewerPreferences"]["/DisplayDocTitle"]
        with document.open_metadata() as metadata:
            assert metadata["pdfuaid:part"] == "1"
            assert metadata["dc:title"].startswith("Report of work WO-")
        assert document.check_pdf_syntax() == []
        assert all(list(found.MediaBox)[2:] for found in document.pages)
    tags = tags_of(pdf)
    assert tags.count("H1") == 1
    assert tags.count("H2") == 6
    assert {"Table", "THead", "TBody", "TR", "TH", "TD", "Caption", "L", "LI"} <= {
        *tags
    }
    assert "BlockQuote" in tags


def test_every_head_cell_is_named_by_the_cells_below_it(
    report_with: Callable[[int], dict[str, Any]],
) -> None:
    with opened(printed(report_with(3))) as document:
        cells = [
            item
            for item in document.objects
            if isinstance(item, pikepdf.Dictionary) and item.get("/S") == "/TD"
        ]
        assert cells
        assert all("/Headers" in cell["/A"] for cell in cells)


def test_all_fonts_are_embedded_and_of_the_one_family_that_set_up_installs(
    report_with: Callable[[int], dict[str, Any]],
) -> None:
    fonts = fonts_of(printed(report_with(3)))
    assert fonts
    assert all(fonts.values())
    assert {name.split("+")[1] for name in fonts} <= {
        "DejaVu-Sans",
        "DejaVu-Sans-Bold",
        "DejaVu-Serif-Bold",
        "DejaVu-Sans-Mono-Bold",
    }


def test_qpdf_finds_nothing_wrong(
    report_with: Callable[[int], dict[str, Any]],
) -> None:
    assert "No syntax or stream encoding errors found" in qpdf_finds(
        printed(report_with(40))
    )


def test_a_word_too_long_for_the_sheet_is_broken_and_complete(
    report_with: Callable[[int], dict[str, Any]],
) -> None:
    text = "".join(pages_of(printed(report_with(1)))).replace("\n", "").replace(" ", "")
    assert LONG_WORD in text


@pytest.mark.parametrize(
    ("size", "points"), [("A4", (595, 842)), ("Letter", (612, 792))]
)
def test_the_sheet_has_the_size_that_was_asked_for(
    size: str,
    points: tuple[int, int],
    report_with: Callable[[int], dict[str, Any]],
) -> None:
    with opened(printed({**report_with(1), "page_size": size})) as document:
        box = [round(float(edge)) for edge in list(document.pages[0].MediaBox)]
    assert tuple(box[2:]) == points


def test_another_process_makes_the_same_bytes(
    report_with: Callable[[int], dict[str, Any]], tmp_path: Path
) -> None:
    content = report_with(5)
    pdf = printed(content)
    html = tmp_path / "page.html"
    html.write_text(page(content, asked_at=ASKED_AT), encoding="utf-8")
    program = (
        "import sys, django; from pathlib import Path; django.setup()\n"
        "from shop.paper.render import pdf_from_html\n"
        "from shop.paper.sheets import stylesheet\n"
        "html = Path(sys.argv[1]).read_text(encoding='utf-8')\n"
        "css = stylesheet('A4')\n"
        "pdf = pdf_from_html(html, css=css, identifier=b'sixteen bytes id')\n"
        "sys.stdout.buffer.write(pdf)\n"
    )
    again = subprocess.run(
        [sys.executable, "-c", program, str(html)],
        check=True,
        capture_output=True,
        cwd=ROOT,
        env={**os.environ, "PYTHONHASHSEED": "77"},
    )
    assert again.stdout == pdf


def test_whatever_the_engine_complains_about_fails_the_paper() -> None:
    good = "<html lang=en><title>T</title><p>Text"
    assert pdf_from_html(good, css="", identifier=b"x")
    for html, css in (
        (good, "p { colour: blue }"),
        (good, "p { width: calc( }"),
        ("<html lang=en><title>T</title><img alt=x src='static:no/such.png'>", ""),
        ("<html><title>T</title><p>No language", ""),
    ):
        with pytest.raises(PaperError, match="engine complained"):
            pdf_from_html(html, css=css, identifier=b"x")


@pytest.mark.parametrize(
    "address",
    [
        "file:///etc/passwd",
        "http://example.org/x.png",
        "ftp://example.org/x",
        "static:../config/settings.py",
        "static:shop/../../config/settings.py",
        "static:/etc/passwd",
        "static:",
        "shop/img/plate.svg",
    ],
)
def test_paper_reaches_no_file_and_no_host_but_our_own(address: str) -> None:
    with pytest.raises(ValueError, match="own static files"):
        own_file(address)
    html = f"<html lang=en><title>T</title><img alt=x src='{address}'>"
    with pytest.raises(PaperError):
        pdf_from_html(html, css="", identifier=b"x")


def test_own_static_files_and_data_addresses_are_drawn() -> None:
    svg = "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'/>"
    dot = f"data:image/svg+xml,{svg}"
    for address in ("static:shop/img/plate.svg", dot):
        html = f'<html lang=en><title>T</title><img alt=x src="{address}">'
        assert pdf_from_html(html, css="", identifier=b"x")


def test_an_untagged_or_damaged_file_is_not_handed_out() -> None:
    plain = BytesIO()
    with pikepdf.new() as document:
        document.add_blank_page()
        document.save(plain)
    with pytest.raises(PaperError, match="not tagged"):
        count_pages(plain.getvalue())
    good = pdf_from_html("<html lang=en><title>T</title><p>x", css="", identifier=b"x")
    assert count_pages(good) == 1
