"""Reads a PDF back, as a person and as a checker would."""

import shutil
import subprocess
import tempfile
from io import BytesIO
from pathlib import Path

import pikepdf


def pages_of(pdf: bytes) -> list[str]:
    """Return the text of each page, laid out as it is seen."""
    text = _run("pdftotext", pdf, "-layout", "{file}", "-")
    return text.split("\f")[:-1]


def text_of(pdf: bytes) -> str:
    """Return all text, with every run of spaces as one."""
    return " ".join(" ".join(pages_of(pdf)).split())


def fonts_of(pdf: bytes) -> dict[str, bool]:
    """Return each font's name and whether it is embedded."""
    lines = _run("pdffonts", pdf, "{file}").splitlines()[2:]
    return {line.split()[0]: " yes yes " in line for line in lines}


def qpdf_finds(pdf: bytes) -> str:
    """Return qpdf's verdict on the syntax; it fails the test by raising."""
    return _run("qpdf", pdf, "--check", "{file}")


def opened(pdf: bytes) -> pikepdf.Pdf:
    return pikepdf.open(BytesIO(pdf))


def tags_of(pdf: bytes) -> list[str]:
    """Return the structure types in reading order."""
    found: list[str] = []

    def walk(element: pikepdf.Object) -> None:
        if isinstance(element, pikepdf.Array):
            for child in list(element):
                walk(child)
        elif isinstance(element, pikepdf.Dictionary):
            if "/S" in element:
                found.append(str(element["/S"]).removeprefix("/"))
            if "/K" in element:
                walk(element["/K"])

    with opened(pdf) as document:
        walk(document.Root["/StructTreeRoot"]["/K"])
    return found


def _run(tool: str, pdf: bytes, *arguments: str) -> str:
    path = shutil.which(tool)
    assert path is not None, f"{tool} is installed by `bash .ci/setup`"
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "paper.pdf"
        file.write_bytes(pdf)
        command = [path, *(part.replace("{file}", str(file)) for part in arguments)]
        done = subprocess.run(command, capture_output=True, check=True)
    return done.stdout.decode()
