"""What a file is stands in its first bytes, not in its name."""

from contextlib import suppress
from datetime import UTC, datetime, timedelta
from io import BytesIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.domain.attachments import (
    MOST_BYTES,
    MOVES,
    FileType,
    ThumbnailEvent,
    ThumbnailState,
    after_crash,
    after_error,
    believable,
    check_size,
    file_type,
    moved,
    read_in,
)
from shop.domain.refusals import Refusal
from tests import pictures

NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)


@pytest.mark.parametrize(
    ("content", "kind"),
    [
        (pictures.jpeg(), FileType.JPEG),
        (pictures.png(), FileType.PNG),
        (pictures.saved(pictures.picture(), "WEBP"), FileType.WEBP),
        (pictures.heic(), FileType.HEIF),
        (pictures.pdf(), FileType.PDF),
    ],
)
def test_files_that_are_taken_are_known(content: bytes, kind: FileType) -> None:
    assert file_type(content) is kind


@pytest.mark.parametrize(
    ("content", "word"),
    [
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "SVG"),
        (b"<?xml version='1.0'?>\n<svg/>", "SVG"),
        (b"  \n<!DOCTYPE html><html></html>", "web page"),
        (b"\xef\xbb\xbf<html><script>1</script>", "web page"),
        (b"GIF89a" + bytes(40), "GIF"),
        (b"II*\x00" + bytes(40), "TIFF"),
        (b"PK\x03\x04" + bytes(40), "ZIP"),
        (bytes(4) + b"ftypisom" + bytes(40), "film"),
        (bytes(4) + b"ftypqt  " + bytes(40), "film"),
        (b"just some words", "cannot be told"),
    ],
)
def test_what_is_not_taken_is_named_and_told_what_to_send(
    content: bytes, word: str
) -> None:
    with pytest.raises(Refusal) as refused:
        file_type(content)
    assert refused.value.code == "file-type-unknown"
    assert word in refused.value.message
    assert "Send a photo" in refused.value.message


def test_an_empty_file_and_a_huge_one_are_told_apart() -> None:
    for size, code in ((0, "file-empty"), (MOST_BYTES + 1, "file-too-large")):
        with pytest.raises(Refusal) as refused:
            check_size(size)
        assert refused.value.code == code
    check_size(1)
    check_size(MOST_BYTES)


class Sent(BytesIO):
    size: int | None = 0


def test_a_file_that_is_too_large_is_not_even_read() -> None:
    file = Sent(b"abc")
    file.size = MOST_BYTES + 1
    with pytest.raises(Refusal):
        read_in(file)
    assert file.tell() == 0
    file.size = 3
    assert read_in(file) == b"abc"


@given(st.binary(max_size=64))
def test_any_bytes_are_either_known_or_refused(content: bytes) -> None:
    with suppress(Refusal):
        assert isinstance(file_type(content), FileType)


def test_a_worker_gives_up_in_the_end() -> None:
    assert after_error(2) is ThumbnailEvent.PUT_BACK
    assert after_error(3) is ThumbnailEvent.GIVE_UP
    assert after_crash(2) is ThumbnailEvent.PUT_BACK
    assert after_crash(3) is ThumbnailEvent.GIVE_UP


def test_every_state_but_the_ends_leads_on() -> None:
    starts = {state for state, _ in MOVES}
    assert starts == set(ThumbnailState) - {ThumbnailState.NONE, ThumbnailState.READY}
    with pytest.raises(KeyError):
        moved(ThumbnailState.READY, ThumbnailEvent.CLAIM)


def test_a_camera_whose_clock_was_never_set_is_not_believed() -> None:
    for wrong in (NOON.replace(year=1970), NOON + timedelta(days=2), None):
        assert believable(wrong, at=NOON) is None
    assert believable(NOON - timedelta(days=9), at=NOON) == NOON - timedelta(days=9)
