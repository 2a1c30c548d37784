"""Photos of the invented workshop, drawn: no picture of a real bike is shipped."""

from datetime import datetime
from io import BytesIO

import pikepdf
from PIL import ExifTags, Image, ImageDraw

SIZE = (1600, 1200)
_BENCH = (150, 120, 86)
_STEEL = (168, 172, 176)
_DARK = (38, 36, 34)
_BRASS = (201, 162, 76)
_GREEN = (66, 92, 62)
_CREAM = (236, 224, 196)
_BLACK = (22, 22, 22)
_RED = (176, 36, 30)
_BLUE = (34, 70, 140)
_RUST = (140, 74, 40)


def photo(draw_it: str, *, taken_at: datetime) -> bytes:
    """Return one of the drawn photos as a JPEG with the camera's day and time."""
    sheet = Image.new("RGB", SIZE, _BENCH)
    pen = ImageDraw.Draw(sheet)
    _planks(pen)
    _SCENES[draw_it](pen)
    words = Image.Exif()
    facts = words.get_ifd(ExifTags.IFD.Exif)
    facts[ExifTags.Base.DateTimeOriginal] = f"{taken_at:%Y:%m:%d %H:%M:%S}"
    facts[ExifTags.Base.OffsetTimeOriginal] = "+00:00"
    target = BytesIO()
    sheet.save(target, "JPEG", quality=85, exif=words.tobytes())
    return target.getvalue()


def letter(lines: tuple[str, ...]) -> bytes:
    """Return a PDF of one page with these lines in plain letters."""
    with pikepdf.new() as made:
        page = made.add_blank_page(page_size=(595, 842))
        font = pikepdf.Dictionary(
            Type=pikepdf.Name.Font,
            Subtype=pikepdf.Name.Type1,
            BaseFont=pikepdf.Name.Helvetica,
        )
        page.Resources = pikepdf.Dictionary(Font=pikepdf.Dictionary(F1=font))
        shown = "".join(f"({line}) Tj T* " for line in lines)
        page.Contents = made.make_stream(
            f"BT /F1 13 Tf 20 TL 72 760 Td {shown}ET".encode("latin-1")
        )
        target = BytesIO()
        made.save(target, deterministic_id=True)
    return target.getvalue()


def _planks(pen: ImageDraw.ImageDraw) -> None:
    for top in range(0, SIZE[1], 150):
        pen.line((0, top, SIZE[0], top), fill=(118, 92, 62), width=4)
        for grain in range(20, 150, 34):
            pen.line((0, top + grain, SIZE[0], top + grain + 6), fill=(142, 112, 78))


def _headlamp(pen: ImageDraw.ImageDraw) -> None:
    """Draw an open lamp shell with what comes through its grommet."""
    pen.ellipse((380, 180, 1220, 1020), fill=_BLACK)
    pen.ellipse((430, 230, 1170, 970), fill=(64, 62, 60))
    pen.ellipse((760, 820, 850, 910), fill=_DARK)
    for place, colour in enumerate((_RED, _GREEN, _BLUE, _CREAM, _BLACK, _RUST)):
        left = 520 + place * 100
        pen.line((805, 860, 800, 700, left, 560, left, 400), fill=colour, width=22)
        pen.rounded_rectangle((left - 16, 340, left + 16, 420), 8, fill=_BRASS)


def _tank(pen: ImageDraw.ImageDraw) -> None:
    """Draw a fuel tank on the bench."""
    pen.rounded_rectangle((240, 420, 1360, 880), 220, fill=_GREEN)
    pen.rounded_rectangle((420, 520, 1180, 780), 120, fill=_CREAM)
    pen.rounded_rectangle((470, 560, 1130, 740), 90, fill=_GREEN)
    pen.ellipse((720, 370, 880, 470), fill=_STEEL)
    pen.ellipse((760, 390, 840, 450), fill=(120, 124, 128))
    pen.polygon(((1180, 800), (1250, 760), (1290, 830), (1210, 860)), fill=_RUST)


def _plug(pen: ImageDraw.ImageDraw) -> None:
    """Draw a three-way plug with one burnt cavity."""
    pen.rounded_rectangle((520, 380, 1080, 820), 40, fill=_CREAM)
    for row, (colour, pin) in enumerate(
        ((_RED, _BRASS), (_GREEN, (92, 52, 28)), (_BLACK, _BRASS))
    ):
        middle = 470 + row * 130
        pen.line((0, middle + 40, 520, middle), fill=colour, width=34)
        pen.rectangle((560, middle - 40, 1040, middle + 40), fill=_DARK)
        pen.rectangle((700, middle - 22, 1040, middle + 22), fill=pin)
    pen.ellipse((560, 540, 760, 660), fill=(70, 46, 30))


def _dynamo(pen: ImageDraw.ImageDraw) -> None:
    """Draw a dynamo with its end cover off and a paper tag."""
    pen.rounded_rectangle((300, 460, 1060, 840), 60, fill=_STEEL)
    pen.ellipse((950, 440, 1230, 860), fill=(112, 116, 120))
    pen.ellipse((1010, 540, 1170, 760), fill=_BRASS)
    for brush in (470, 780):
        pen.rectangle((1050, brush, 1130, brush + 60), fill=_DARK)
    pen.line((420, 460, 360, 250), fill=_DARK, width=6)
    pen.polygon(((300, 130), (520, 130), (520, 270), (300, 270)), fill=_CREAM)
    for row in (165, 200, 235):
        pen.line((325, row, 490, row), fill=_DARK, width=5)


_SCENES = {
    "headlamp": _headlamp,
    "tank": _tank,
    "plug": _plug,
    "dynamo": _dynamo,
}
