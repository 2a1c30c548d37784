"""Drawings into the library: taken whole or not at all."""

import hashlib
from datetime import datetime

from django.db import IntegrityError, transaction

import harness
from diagnostics.models import HarnessFile
from diagnostics.refusals import HarnessFileRefused, ProblemLine
from shop.actions.history import Happening, record
from shop.domain.refusals import Refusal
from shop.domain.roles import Act
from shop.models import User

MOST_BYTES = 2 * 1024 * 1024


def upload_harness(
    *,
    maker: str,
    model: str,
    years: str,
    content: bytes,
    acting_user: User,
    at: datetime,
) -> HarnessFile:
    """Take a harness file into the library.

    Raises
    ------
    HarnessFileRefused
        The file is no usable harness; every problem is listed with its line.
    Refusal
        The bike is not named, or these very bytes are in the library already.
    """
    acting_user.demand(Act.KEEP_LOOM_LIBRARY)
    _demand_words("maker", maker, "Say who made the bike.")
    _demand_words("model", model, "Say which model the drawing is of.")
    if len(years) > _LONGEST["years"]:
        raise Refusal("years-too-long", "Keep the years to 40 characters.", "years")
    text = _text(content)
    digest = hashlib.sha256(content).hexdigest()
    _refuse_twin(digest)
    try:
        h = harness.loads(text, name=f"{maker} {model}")
    except harness.HarnessError as error:
        raise HarnessFileRefused.from_engine(error) from error
    file = HarnessFile(
        maker=maker.strip(),
        model=model.strip(),
        years=years.strip(),
        title=h.title[:200],
        text=text,
        sha256=digest,
        nominal_volts=int(h.volts),
        earth=h.earth,
        wire_count=len(h.wires),
        device_count=len(h.devices),
        added_by=acting_user,
        added_at=at,
    )
    try:
        with transaction.atomic():
            file.save(force_insert=True)
            record(
                Happening(
                    verb="harness_file.added",
                    kind="harness_file",
                    subject_id=file.pk,
                    summary=f"Harness file added to the library: {file}",
                ),
                acting_user=acting_user,
                at=at,
            )
    except IntegrityError:
        _refuse_twin(digest)
        raise
    return file


_LONGEST = {"maker": 80, "model": 80, "years": 40}


def _demand_words(field: str, words: str, missing: str) -> None:
    if not words.strip():
        raise Refusal(f"{field}-missing", missing, field)
    if len(words.strip()) > _LONGEST[field]:
        raise Refusal(
            f"{field}-too-long", f"Keep it to {_LONGEST[field]} characters.", field
        )


def _text(content: bytes) -> str:
    if not content.strip():
        raise HarnessFileRefused(
            (ProblemLine(None, "file", "it is empty", "choose the harness file"),)
        )
    if len(content) > MOST_BYTES:
        raise HarnessFileRefused(
            (
                ProblemLine(
                    None,
                    "file",
                    f"it has {len(content):,} bytes, more than 2 MiB",
                    "a loom of thousands of wires needs far less; "
                    "check that this is the right file",
                ),
            )
        )
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise HarnessFileRefused(
            (
                ProblemLine(
                    line,
                    "file",
                    f"byte {error.start + 1} is not UTF-8 text",
                    "save the file as UTF-8",
                ),
            )
        ) from error


def _refuse_twin(digest: str) -> None:
    twin = HarnessFile.objects.with_digest(digest).defer("text").first()
    if twin is not None:
        raise Refusal(
            "harness-file-known",
            f"This very file is in the library already, as “{twin}”; use that one.",
            "file",
        )
