"""Where finished paper lies: under a random name, reached only through the service."""

import hashlib

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage

from shop.domain.refusals import Refusal


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
