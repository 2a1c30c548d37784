"""Where finished paper lies: under a random name, reached only through the service."""

import hashlib
from io import BytesIO

import pikepdf
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage

from shop.domain.refusals import Refusal
from shop.paper.render import PaperError

PDF_UA = "{http://www.aiim.org/pdfua/ns/id/}part"


def name_for(owner: str) -> str:
    """Return the name under which the holder of a claim files its paper."""
    return f"paper/{owner}.pdf"


def put(pdf: bytes, *, owner: str) -> str:
    """File the paper and return the name it lies under."""
    return default_storage.save(name_for(owner), ContentFile(pdf))


def discard(file_name: str) -> None:
    """Take a paper out of the drawer; one that is not there is gone already."""
    default_storage.delete(file_name)


def holds(file_name: str) -> bool:
    """Say whether the paper is in the drawer."""
    return default_storage.exists(file_name)


def take(file_name: str, *, sha256: str) -> bytes:
    """Return the paper as it was filed.

    Raises
    ------
    Refusal
        The file is gone or is not what was filed.
    """
    try:
        with default_storage.open(file_name) as file:
            pdf: bytes = file.read()
    except FileNotFoundError:
        pdf = b""
    if fingerprint(pdf) != sha256:
        raise Refusal(
            "paper-lost",
            "The file of this paper is missing or damaged. Ask for the report again: "
            "it will be made anew from what was recorded.",
        )
    return pdf


def fingerprint(pdf: bytes) -> str:
    """Return the SHA-256 of the file, in hexadecimal digits."""
    return hashlib.sha256(pdf).hexdigest()


def count_pages(pdf: bytes) -> int:
    """Return the number of pages of a sound, tagged file.

    Raises
    ------
    PaperError
        The file is damaged, or lacks what makes it readable for everybody.
    """
    with pikepdf.open(BytesIO(pdf)) as document:
        faults = document.check_pdf_syntax()
        with document.open_metadata() as metadata:
            is_ua = metadata.get(PDF_UA) == "1"
        is_marked = "/MarkInfo" in document.Root and "/StructTreeRoot" in document.Root
        pages = len(document.pages)
    if faults:
        raise PaperError(f"the finished file is damaged: {faults[0]}")
    if not (is_ua and is_marked):
        raise PaperError("the finished file is not tagged for reading aloud")
    return pages
