"""Pictures made clean: upright, sRGB, without what the phone wrote about place.

What is kept is drawn anew from the pixels, so that nothing else of the file that was
sent survives: no place, no serial number, no second file hidden behind the picture.
The day and time of the photo are read before. No file is touched: bytes in, bytes out.
"""

import struct
import zlib
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone, tzinfo
from io import BytesIO

import pillow_heif
from PIL import (
    ExifTags,
    Image,
    ImageCms,
    ImageFile,
    ImageOps,
    UnidentifiedImageError,
)

from shop.domain.attachments import FileType
from shop.domain.refusals import Refusal

MOST_PIXELS = 60_000_000
"""Phones reach 50 million; drawn out, that is 180 MB of memory."""

LONGEST_SIDE = 4096
"""What is kept of a photo, in pixels: every thread of a bolt can still be counted."""

THUMBNAIL_SIDE = 480
SCREEN_SIDE = 1600
_JPEG_QUALITY = 88
_WEBP_QUALITY = 78
_EXIF_DAY = "%Y:%m:%d %H:%M:%S"
_PLUGINS = {
    FileType.JPEG: ("JPEG", "MPO"),
    FileType.PNG: ("PNG",),
    FileType.WEBP: ("WEBP",),
    FileType.HEIF: ("HEIF",),
}
# What the decoders raise on files that are cut off, damaged or made to do harm.
_UNREADABLE = (
    OSError,
    SyntaxError,
    ValueError,
    TypeError,
    EOFError,
    LookupError,
    RuntimeError,
    ArithmeticError,
    struct.error,
    zlib.error,
    UnidentifiedImageError,
)

pillow_heif.register_heif_opener()


@dataclass(frozen=True, slots=True)
class CleanPhoto:
    """A photo as it is kept.

    Attributes
    ----------
    jpeg : bytes
        The picture, upright, without metadata.
    width, height : int
        In pixels.
    taken_at : datetime or None
        Aware; when the camera says that it was taken.
    """

    jpeg: bytes
    width: int
    height: int
    taken_at: datetime | None


def clean_photo(content: bytes, kind: FileType, *, zone: tzinfo) -> CleanPhoto:
    """Return a photo drawn anew from its pixels.

    Parameters
    ----------
    content : bytes
        The file as it was sent.
    kind : FileType
        What its first bytes say that it is.
    zone : tzinfo
        Where the camera's clock is taken to be if the photo does not say.

    Raises
    ------
    Refusal
        ``photo-unreadable`` or ``photo-too-many-pixels``.
    """
    # The library that lays out paper switches this on for the whole process when it is
    # loaded: the missing half of a photo would silently become grey.
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        with Image.open(BytesIO(content), formats=_PLUGINS[kind]) as sent:
            _check_pixels(*sent.size)
            taken_at = _taken_at(sent, zone)
            # JPEG can be read at a fraction of its size: less memory, less time.
            sent.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
            picture = _fitted(_plain(_upright(sent)), LONGEST_SIDE)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise _too_many_pixels() from None
    except _UNREADABLE:
        raise Refusal(
            "photo-unreadable",
            "The picture is damaged or cut off: it could not be read to its end. "
            "Open it on the phone; if it looks right there, send it once more.",
            "file",
        ) from None
    return CleanPhoto(_jpeg(picture), *picture.size, taken_at)


def smaller(jpeg: bytes, longest_side: int) -> bytes:
    """Return a clean photo as a smaller WebP.

    Parameters
    ----------
    jpeg : bytes
        A photo that `clean_photo` made.
    longest_side : int
        In pixels; a picture that is smaller already keeps its size.
    """
    with Image.open(BytesIO(jpeg), formats=("JPEG",)) as kept:
        kept.draft("RGB", (longest_side, longest_side))
        picture = _fitted(kept.convert("RGB"), longest_side)
    target = BytesIO()
    picture.save(target, "WEBP", quality=_WEBP_QUALITY, method=4)
    return target.getvalue()


def _check_pixels(width: int, height: int) -> None:
    if width * height > MOST_PIXELS:
        raise _too_many_pixels()


def _too_many_pixels() -> Refusal:
    return Refusal(
        "photo-too-many-pixels",
        f"The picture has more than {MOST_PIXELS // 1_000_000} million pixels. "
        "Set the camera to a smaller size, or send a part of the picture.",
        "file",
    )


def _upright(sent: Image.Image) -> Image.Image:
    """Return the pixels as the photographer saw them.

    The decoder of HEIC turns by itself and says so in the picture's own data.
    """
    return ImageOps.exif_transpose(sent)


def _plain(picture: Image.Image) -> Image.Image:
    """Return the picture in sRGB, on white where it was transparent."""
    profile = picture.info.get("icc_profile")
    if picture.mode.startswith("I;16"):
        picture = picture.convert("I").point([v // 256 for v in range(65536)], "L")
    if picture.has_transparency_data:
        over = picture.convert("RGBA")
        picture = Image.new("RGB", over.size, "white")
        picture.paste(over, mask=over.getchannel("A"))
    elif picture.mode != "RGB":
        return picture.convert("RGB")
    return _in_srgb(picture, profile) if isinstance(profile, bytes) else picture


def _in_srgb(picture: Image.Image, profile: bytes) -> Image.Image:
    try:
        found = ImageCms.profileToProfile(
            picture,
            ImageCms.ImageCmsProfile(BytesIO(profile)),
            ImageCms.createProfile("sRGB"),
            outputMode="RGB",
        )
    except (ImageCms.PyCMSError, OSError):
        # A profile that is no profile: the colours stay as they are.
        return picture
    return picture if found is None else found


def _fitted(picture: Image.Image, longest_side: int) -> Image.Image:
    picture.thumbnail((longest_side, longest_side), Image.Resampling.LANCZOS)
    return picture


def _jpeg(picture: Image.Image) -> bytes:
    target = BytesIO()
    # A new picture: it has the pixels and not a word of what came with them.
    bare = Image.new("RGB", picture.size)
    bare.paste(picture)
    bare.save(target, "JPEG", quality=_JPEG_QUALITY, progressive=True)
    return target.getvalue()


def _taken_at(sent: Image.Image, zone: tzinfo) -> datetime | None:
    facts = sent.getexif().get_ifd(ExifTags.IFD.Exif)
    said = str(facts.get(ExifTags.Base.DateTimeOriginal, "")).strip("\x00 ")
    try:
        local = datetime.strptime(said, _EXIF_DAY)  # noqa: DTZ007 - the zone follows
    except ValueError:
        return None
    return local.replace(
        tzinfo=_offset(str(facts.get(ExifTags.Base.OffsetTimeOriginal, ""))) or zone
    )


def _offset(said: str) -> tzinfo | None:
    sign, hours, minutes = said[:1], said[1:3], said[4:6]
    if sign not in {"+", "-"} or not (hours.isdigit() and minutes.isdigit()):
        return None
    span = timedelta(hours=int(hours), minutes=int(minutes))
    if span >= timedelta(hours=24):
        return None
    return timezone(span if sign == "+" else -span)
