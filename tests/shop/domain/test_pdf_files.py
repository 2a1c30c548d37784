import pytest

from shop.domain import pdf_files
from shop.domain.pdf_files import check_pdf
from shop.domain.refusals import Refusal
from tests import pictures


def test_a_plain_pdf_is_counted() -> None:
    assert check_pdf(pictures.pdf(3)) == 3


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"%PDF-1.7\n", "pdf-unreadable"),
        (b"%PDF-1.7\nnothing of the kind\n%%EOF", "pdf-unreadable"),
        (pictures.pdf()[:-60], "pdf-unreadable"),
        (pictures.pdf() + b"PK\x03\x04 an archive", "pdf-not-alone"),
        (pictures.pdf_that_acts(), "pdf-acts"),
        (pictures.pdf_with_a_file_inside(), "pdf-acts"),
        (pictures.locked_pdf(), "pdf-locked"),
        (pictures.locked_pdf(user=""), "pdf-locked"),
    ],
)
def test_what_is_wrong_with_a_pdf_is_said(content: bytes, code: str) -> None:
    with pytest.raises(Refusal) as refused:
        check_pdf(content)
    assert (refused.value.code, refused.value.field) == (code, "file")


def test_a_book_is_too_long(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf_files, "MOST_PAGES", 2)
    with pytest.raises(Refusal) as refused:
        check_pdf(pictures.pdf(3))
    assert refused.value.code == "pdf-too-long"
