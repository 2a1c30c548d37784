"""HTML in, tagged PDF out: the only place that knows WeasyPrint.

The engine takes a second to import, so it is imported when the first paper is
built, in a worker, and never while the web process starts.
"""

import logging
import mimetypes
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from logging.handlers import QueueHandler
from pathlib import Path
from queue import SimpleQueue
from typing import Any
from urllib.parse import unquote, urlsplit

from django.contrib.staticfiles import finders
from django.core.exceptions import SuspiciousFileOperation

STATIC_SCHEME = "static"
PDF_UA_PART = "{http://www.aiim.org/pdfua/ns/id/}part"


class PaperError(Exception):
    """The paper could not be built as it has to be; the message says why."""


@contextmanager
def _no_complaints() -> Iterator[None]:
    """Raise PaperError if the engine logs a warning or an error in this thread."""
    heard: SimpleQueue[logging.LogRecord] = SimpleQueue()
    ear = QueueHandler(heard)
    ear.setLevel(logging.WARNING)
    here = threading.get_ident()
    ear.addFilter(lambda record: record.thread == here)
    engine_log = logging.getLogger("weasyprint")
    engine_log.addHandler(ear)
    try:
        yield
    finally:
        engine_log.removeHandler(ear)
    if not heard.empty():
        raise PaperError(f"the PDF engine complained: {heard.get().getMessage()}")


def own_file(url: str) -> Path:
    """Return the static file that a `static:name` address means.

    Raises
    ------
    ValueError
        The address leads anywhere else, or no such static file exists.
    """
    parts = urlsplit(url)
    try:
        is_ours = parts.scheme == STATIC_SCHEME
        found = finders.find(unquote(parts.path)) if is_ours else None
    except SuspiciousFileOperation:
        found = None
    if not isinstance(found, str) or not Path(found).is_file():
        raise ValueError(f"paper may use own static files and data: only, not {url}")
    return Path(found)


def pdf_from_html(html: str, *, css: str, identifier: bytes) -> bytes:
    """Return the page as a PDF/UA-1 file; the same input gives the same bytes.

    Raises
    ------
    PaperError
        The engine complained about anything at all.
    """
    import weasyprint  # noqa: PLC0415 - costs a second; only workers need it
    from weasyprint.urls import URLFetcher, URLFetcherResponse  # noqa: PLC0415

    class OwnFilesOnly(URLFetcher):  # type: ignore[misc]  # the engine is untyped
        def fetch(self, url: str, headers: dict[str, str] | None = None) -> Any:
            if url.startswith("data:"):
                return super().fetch(url, headers)
            path = own_file(url)
            kind = mimetypes.guess_type(path.name)[0] or "application/octet-stream"
            return URLFetcherResponse(
                url, body=path.read_bytes(), headers={"Content-Type": kind}
            )

    fetcher = OwnFilesOnly(allowed_protocols=("data",))
    with _no_complaints():
        pdf: bytes = weasyprint.HTML(string=html, url_fetcher=fetcher).write_pdf(
            stylesheets=[weasyprint.CSS(string=css, url_fetcher=fetcher)],
            pdf_variant="pdf/ua-1",
            pdf_identifier=identifier,
        )
    return pdf


def count_pages(pdf: bytes) -> int:
    """Return the number of pages of a sound, tagged file.

    Raises
    ------
    PaperError
        The file is damaged, or lacks what makes it readable for everybody.
    """
    import pikepdf  # noqa: PLC0415 - like the engine, for workers alone

    with pikepdf.open(BytesIO(pdf)) as document:
        faults = document.check_pdf_syntax()
        with document.open_metadata() as metadata:
            is_ua = metadata.get(PDF_UA_PART) == "1"
        is_tagged = "/MarkInfo" in document.Root and "/StructTreeRoot" in document.Root
        pages = len(document.pages)
    if faults:
        raise PaperError(f"the finished file is damaged: {faults[0]}")
    if not (is_ua and is_tagged):
        raise PaperError("the finished file is not tagged for reading aloud")
    return pages
