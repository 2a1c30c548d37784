"""Real picture files made on the spot: what phones send, and what nobody should."""

from io import BytesIO

import pikepdf
import pillow_heif
from PIL import ExifTags, Image

GREY = (96, 96, 96)
RED = (200, 30, 30)
BLUE = (20, 40, 200)
# Where the invented workshop would be; no phone was ever there.
PLACE: dict[int, object] = {
    ExifTags.GPS.GPSLatitudeRef: "N",
    ExifTags.GPS.GPSLatitude: (52.0, 12.0, 34.5),
    ExifTags.GPS.GPSLongitudeRef: "E",
    ExifTags.GPS.GPSLongitude: (4.0, 56.0, 7.8),
}
TAKEN = "2026:03:01 17:45:10"


def picture(width: int = 60, height: int = 40) -> Image.Image:
    """Return a picture that is red at the left and blue at the right."""
    drawn = Image.new("RGB", (width, height), RED)
    drawn.paste(BLUE, (width // 2, 0, width, height))
    return drawn


def exif(*, orientation: int = 1, offset: str = "+01:00") -> Image.Exif:
    """Return what a phone writes: place, make, day, and which way up it was held."""
    words = Image.Exif()
    words[ExifTags.Base.Orientation] = orientation
    words[ExifTags.Base.Make] = "Pocket Lantern"
    words.get_ifd(ExifTags.IFD.GPSInfo).update(PLACE)
    facts = words.get_ifd(ExifTags.IFD.Exif)
    facts[ExifTags.Base.DateTimeOriginal] = TAKEN
    if offset:
        facts[ExifTags.Base.OffsetTimeOriginal] = offset
    return words


def saved(drawn: Image.Image, form: str, **options: object) -> bytes:
    target = BytesIO()
    drawn.save(target, form, **options)
    return target.getvalue()


def jpeg(width: int = 60, height: int = 40, **said: object) -> bytes:
    """Return a JPEG as a phone makes it, with place and orientation."""
    words = exif(**said)  # type: ignore[arg-type]  # passed on
    return saved(picture(width, height), "JPEG", exif=words.tobytes(), quality=95)


def heic(width: int = 64, height: int = 48) -> bytes:
    """Return a HEIC with place and day."""
    pillow_heif.register_heif_opener()
    return saved(picture(width, height), "HEIF", exif=exif().tobytes(), quality=90)


def png(mode: str = "RGB") -> bytes:
    return saved(picture().convert(mode), "PNG")


def png_bomb(width: int = 9_000, height: int = 9_000) -> bytes:
    """Return a small PNG that would be 81 million pixels when drawn."""
    flat = Image.new("1", (width, height))
    return saved(flat, "PNG", optimize=False)


def pdf(pages: int = 2) -> bytes:
    with pikepdf.new() as made:
        for _ in range(pages):
            made.add_blank_page(page_size=(200, 300))
        return _written(made)


def pdf_that_acts() -> bytes:
    with pikepdf.new() as made:
        made.add_blank_page()
        made.Root.OpenAction = pikepdf.Dictionary(
            S=pikepdf.Name.JavaScript, JS=pikepdf.String("app.alert(1)")
        )
        return _written(made)


def pdf_with_a_file_inside() -> bytes:
    with pikepdf.new() as made:
        made.add_blank_page()
        made.attachments["hidden.txt"] = b"something"
        return _written(made)


def locked_pdf(user: str = "secret") -> bytes:
    with pikepdf.new() as made:
        made.add_blank_page()
        target = BytesIO()
        made.save(target, encryption=pikepdf.Encryption(owner="o", user=user))
    return target.getvalue()


def _written(made: pikepdf.Pdf) -> bytes:
    target = BytesIO()
    made.save(target)
    return target.getvalue()
