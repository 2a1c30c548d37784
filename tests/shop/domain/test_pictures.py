"""Photos are drawn anew: upright, without place, whatever else hung on the file."""

from datetime import UTC, datetime
from io import BytesIO
from zoneinfo import ZoneInfo

import pytest
from PIL import Image, ImageCms, ImageFile

from shop.domain.attachments import FileType, file_type
from shop.domain.pictures import LONGEST_SIDE, clean_photo, smaller
from shop.domain.refusals import Refusal
from tests import pictures

HERE = ZoneInfo("Europe/Dublin")


def cleaned(content: bytes) -> Image.Image:
    kept = clean_photo(content, file_type(content), zone=HERE)
    made = Image.open(BytesIO(kept.jpeg))
    assert made.size == (kept.width, kept.height)
    return made


def is_near(
    made: Image.Image, spot: tuple[int, int], colour: tuple[int, int, int]
) -> bool:
    found = made.getpixel(spot)
    assert isinstance(found, tuple)
    return all(abs(a - b) < 25 for a, b in zip(found, colour, strict=True))


def test_the_place_a_phone_wrote_down_is_gone() -> None:
    sent = pictures.jpeg()
    assert Image.open(BytesIO(sent)).getexif().get_ifd(0x8825)
    made = cleaned(sent)
    assert not dict(made.getexif())
    assert "exif" not in made.info
    assert "icc_profile" not in made.info
    assert b"Pocket Lantern" in sent
    kept = clean_photo(sent, FileType.JPEG, zone=HERE).jpeg
    assert b"Pocket Lantern" not in kept
    assert b"Exif" not in kept


# Where red (left in the raw pixels) must be for each EXIF orientation, as the
# standard defines the eight values (JEITA CP-3451, tag 0x0112).
@pytest.mark.parametrize(
    ("orientation", "red"),
    [
        (1, "left"),
        (2, "right"),
        (3, "right"),
        (4, "left"),
        (5, "top"),
        (6, "top"),
        (7, "bottom"),
        (8, "bottom"),
    ],
)
def test_a_photo_stands_upright_however_the_phone_was_held(
    orientation: int, red: str
) -> None:
    made = cleaned(pictures.jpeg(orientation=orientation))
    wide, high = made.size
    spots = {
        "left": (5, high // 2),
        "right": (wide - 6, high // 2),
        "top": (wide // 2, 5),
        "bottom": (wide // 2, high - 6),
    }
    assert made.size == ((60, 40) if red in {"left", "right"} else (40, 60))
    assert is_near(made, spots[red], pictures.RED)


def test_a_heic_of_a_phone_becomes_a_jpeg_without_place() -> None:
    sent = pictures.heic()
    assert file_type(sent) is FileType.HEIF
    kept = clean_photo(sent, FileType.HEIF, zone=HERE)
    made = Image.open(BytesIO(kept.jpeg))
    assert (made.format, made.size) == ("JPEG", (64, 48))
    assert is_near(made, (8, 24), pictures.RED)
    assert is_near(made, (56, 24), pictures.BLUE)
    assert not dict(made.getexif())
    assert kept.taken_at == datetime(2026, 3, 1, 16, 45, 10, tzinfo=UTC)


def test_a_camera_that_names_no_zone_is_taken_to_stand_in_the_workshop() -> None:
    kept = clean_photo(pictures.jpeg(offset=""), FileType.JPEG, zone=HERE)
    assert kept.taken_at == datetime(2026, 3, 1, 17, 45, 10, tzinfo=UTC)


@pytest.mark.parametrize("offset", ["+99:99", "nonsense", "+1", "-25:00"])
def test_an_offset_that_is_none_counts_as_not_said(offset: str) -> None:
    kept = clean_photo(pictures.jpeg(offset=offset), FileType.JPEG, zone=HERE)
    assert kept.taken_at == datetime(2026, 3, 1, 17, 45, 10, tzinfo=UTC)


def test_a_picture_that_says_no_day_has_none() -> None:
    assert clean_photo(pictures.png(), FileType.PNG, zone=HERE).taken_at is None


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA", "I;16"])
def test_every_kind_of_png_is_read(mode: str) -> None:
    assert cleaned(pictures.png(mode)).mode == "RGB"


def test_what_was_transparent_becomes_white() -> None:
    clear = Image.new("RGBA", (20, 20), (0, 0, 0, 0))
    made = cleaned(pictures.saved(clear, "PNG"))
    assert is_near(made, (10, 10), (255, 255, 255))


def test_colours_of_a_wider_space_are_brought_to_the_one_of_every_screen() -> None:
    lab = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    made = cleaned(pictures.saved(pictures.picture(), "JPEG", icc_profile=lab))
    assert is_near(made, (5, 20), pictures.RED)
    broken = pictures.saved(pictures.picture(), "JPEG", icc_profile=b"no profile")
    assert is_near(cleaned(broken), (5, 20), pictures.RED)


def test_a_print_scanned_in_four_inks_is_read() -> None:
    inks = pictures.picture().convert("CMYK")
    assert cleaned(pictures.saved(inks, "JPEG")).mode == "RGB"


def test_a_huge_photo_is_kept_at_a_size_that_still_shows_all() -> None:
    made = cleaned(pictures.jpeg(6000, 3000))
    assert made.size == (LONGEST_SIDE, LONGEST_SIDE // 2)


def test_a_picture_of_more_pixels_than_memory_is_refused_before_it_is_drawn() -> None:
    bomb = pictures.png_bomb()
    assert len(bomb) < 200_000
    with pytest.raises(Refusal) as refused:
        clean_photo(bomb, FileType.PNG, zone=HERE)
    assert refused.value.code == "photo-too-many-pixels"
    assert refused.value.field == "file"


@pytest.mark.parametrize("part", [0.1, 0.5, 0.8])
@pytest.mark.parametrize("make", [pictures.jpeg, pictures.heic, pictures.png])
def test_a_photo_that_was_cut_off_on_the_way_is_refused(
    make: object, part: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole: bytes = make()  # type: ignore[operator]  # one of the three makers
    content = whole[: int(len(whole) * part)]
    # Loading the library that lays out paper does this to the whole process.
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)
    with pytest.raises(Refusal) as refused:
        clean_photo(content, file_type(content), zone=HERE)
    assert refused.value.code == "photo-unreadable"


def test_a_file_hidden_behind_a_photo_does_not_survive() -> None:
    hidden = b"<script>alert(1)</script>PK\x03\x04 hidden archive"
    kept = clean_photo(pictures.jpeg() + hidden, FileType.JPEG, zone=HERE)
    assert b"script" not in kept.jpeg
    assert b"hidden" not in kept.jpeg


def test_a_small_picture_is_no_longer_than_asked_and_a_smaller_one_stays() -> None:
    kept = clean_photo(pictures.jpeg(1000, 500), FileType.JPEG, zone=HERE)
    small = Image.open(BytesIO(smaller(kept.jpeg, 480)))
    assert (small.format, small.size) == ("WEBP", (480, 240))
    assert Image.open(BytesIO(smaller(kept.jpeg, 1600))).size == (1000, 500)
