"""Labels read back from the finished file, as a phone's camera would read them."""

import shutil
import subprocess
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image

from shop.domain.strip_tags import tag_code, tag_label
from shop.paper.labels import (
    LABELS_A_SHEET,
    Label,
    LabelSize,
    code_image,
    label_content,
    label_digest,
)
from shop.paper.render import count_pages, pdf_from_html
from shop.paper.sheets import page, style_of
from tests.builders import MORNING
from tests.shop.paper.reading import opened, pages_of

MM_A_POINT = 25.4 / 72
DOTS_AN_INCH = 203  # what a plain label printer has
SIZES_MM = {
    LabelSize.A4: (210, 297),
    LabelSize.LETTER: (215.9, 279.4),
    LabelSize.ROLL: (62, 29),
}


def labels(count: int) -> list[Label]:
    return [
        Label(
            label=tag_label(1001 + n),
            name="Left mudguard stays with a very long name that will not fit" * (n % 2)
            or "Rear wheel",
            place="Rear, left, above the silencer bracket, behind the tool box",
            pieces=1 + n,
            fate="Refit",
            bike="Tarnfell Heron 350 (1961)",
            order="WO-1001",
            url=f"https://shop.old-harbour.example/t/{tag_code(1001 + n)}/",
        )
        for n in range(count)
    ]


def printed(count: int, size: LabelSize) -> bytes:
    content = label_content(labels(count), size=size, work_order_id=1, language="en")
    return pdf_from_html(
        page(content, asked_at=MORNING),
        css=style_of(content),
        identifier=b"sixteen bytes id",
    )


def codes_on(pdf: bytes, folder: Path) -> list[str]:
    """Return what a reader finds on all pages, drawn as a label printer draws them."""
    tool = shutil.which("pdftoppm")
    assert tool is not None
    (folder / "labels.pdf").write_bytes(pdf)
    subprocess.run(
        [tool, "-r", str(DOTS_AN_INCH), "-png", "labels.pdf", "page"],
        cwd=folder,
        check=True,
    )
    found: list[str] = []
    for sheet in sorted(folder.glob("page*.png")):
        with Image.open(sheet) as picture:
            found += [code.text for code in zxingcpp.read_barcodes(picture)]
    return found


@pytest.mark.parametrize(
    ("size", "count"),
    [(LabelSize.A4, 26), (LabelSize.LETTER, 31), (LabelSize.ROLL, 2)],
)
def test_every_code_on_the_sheets_opens_its_own_tag(
    size: LabelSize, count: int, tmp_path: Path
) -> None:
    pdf = printed(count, size)
    assert count_pages(pdf) == -(-count // LABELS_A_SHEET[size])
    assert sorted(codes_on(pdf, tmp_path)) == sorted(one.url for one in labels(count))


@pytest.mark.parametrize("size", list(LabelSize))
def test_a_sheet_is_as_large_as_its_paper_and_names_each_tag(size: LabelSize) -> None:
    count = min(LABELS_A_SHEET[size], 4)
    pdf = printed(count, size)
    with opened(pdf) as document:
        box = [float(side) * MM_A_POINT for side in document.pages[0].mediabox[2:]]
    assert box == pytest.approx(SIZES_MM[size], abs=0.1)
    text = " ".join(pages_of(pdf))
    assert all(one.label in text for one in labels(count))


def test_changed_words_are_another_paper() -> None:
    one, two = (
        label_content(labels(n), size=LabelSize.ROLL, work_order_id=1, language="en")
        for n in (1, 2)
    )
    assert label_digest(one, sheet_version="1") == label_digest(one, sheet_version="1")
    assert label_digest(one, sheet_version="1") != label_digest(two, sheet_version="1")
    assert label_digest(one, sheet_version="1") != label_digest(one, sheet_version="2")


def test_the_code_is_drawn_as_a_picture_that_needs_no_network() -> None:
    assert code_image("https://shop.example/t/10019/").startswith("data:image/svg+xml")
