"""PDFs checked before they are kept: whole, open to read, and nothing in them acts.

A document is kept byte for byte as it was sent: rewriting would break a signature.
"""

from collections.abc import Iterator
from io import BytesIO

import pikepdf

from shop.domain.refusals import Refusal

MOST_PAGES = 500
MOST_OBJECTS = 50_000
_END = b"%%EOF"
_ACTING = frozenset({"/JavaScript", "/Launch", "/ImportData", "/SubmitForm"})
_SPACE = b"\x00\t\n\x0c\r "


def check_pdf(content: bytes) -> int:
    """Return the number of pages of a PDF that may be kept.

    Parameters
    ----------
    content : bytes
        The file; it begins with ``%PDF-``.

    Raises
    ------
    Refusal
        ``pdf-unreadable``, ``pdf-locked``, ``pdf-not-alone``, ``pdf-acts`` or
        ``pdf-too-long``.
    """
    _check_alone(content)
    try:
        with pikepdf.open(BytesIO(content), attempt_recovery=False) as pdf:
            pages = _check_pages(len(pdf.pages), len(pdf.objects))
            if pdf.is_encrypted:
                raise _locked()
            _check_still(pdf)
            return pages
    except pikepdf.PasswordError:
        raise _locked() from None
    except (pikepdf.PdfError, ValueError, TypeError, LookupError, RuntimeError):
        raise Refusal(
            "pdf-unreadable",
            "The PDF is damaged or cut off. Open it and save or print it as a new "
            "PDF, then send that.",
            "file",
        ) from None


def _check_alone(content: bytes) -> None:
    """Refuse a PDF with another file behind it; a ZIP is read from its end."""
    end = content.rfind(_END)
    if end != -1 and content[end + len(_END) :].strip(_SPACE):
        raise Refusal(
            "pdf-not-alone",
            "Something else is hung behind the end of this PDF. Print it as a new "
            "PDF and send that.",
            "file",
        )


def _check_pages(pages: int, objects: int) -> int:
    if pages == 0 or pages > MOST_PAGES or objects > MOST_OBJECTS:
        raise Refusal(
            "pdf-too-long",
            f"The PDF has {pages} pages and {objects} pieces; it takes one page at "
            f"least and {MOST_PAGES} pages at most. Send it in parts.",
            "file",
        )
    return pages


def _check_still(pdf: pikepdf.Pdf) -> None:
    """Refuse what runs, starts or sends something, and files inside the file."""
    for piece in _pieces(pdf):
        if "/JS" in piece or "/EF" in piece or str(piece.get("/S", "")) in _ACTING:
            raise Refusal(
                "pdf-acts",
                "This PDF carries a program, another file or a form that sends "
                "itself. Print it as a new PDF and send that.",
                "file",
            )


def _pieces(pdf: pikepdf.Pdf) -> Iterator[pikepdf.Object]:
    """Yield every dictionary of the file, those inside other pieces included."""
    waiting = list(pdf.objects)
    while waiting:
        piece = waiting.pop()
        if isinstance(piece, pikepdf.Dictionary | pikepdf.Stream):
            yield piece
            inner = [piece[key] for key in piece.keys()]  # noqa: SIM118 - not a mapping
        elif isinstance(piece, pikepdf.Array):
            inner = list(piece)
        else:
            continue
        # What stands by itself in the file is on the list already; a number or a
        # word is nothing that stands anywhere.
        waiting.extend(part for part in inner if not getattr(part, "is_indirect", True))


def _locked() -> Refusal:
    return Refusal(
        "pdf-locked",
        "The PDF is locked with a password. Save it without one and send that.",
        "file",
    )
