"""What stands on a paper, read back by another program than the one that made it."""

import subprocess


def text_of(pdf: bytes) -> str:
    """Return the text of a PDF, white space evened out."""
    assert pdf.startswith(b"%PDF-")
    done = subprocess.run(
        ["pdftotext", "-layout", "-", "-"], input=pdf, capture_output=True, check=True
    )
    return " ".join(done.stdout.decode().split())
