from pathlib import Path

from django.contrib.staticfiles import finders
from django.core.files.storage import FileSystemStorage

from shop.config.static_files import DigestNames

OURS = Path(str(finders.find("shop/js/page.js"))).parents[2]


def collected(folder: Path) -> Path:
    """Return our own static files as a deployment has them."""
    source = FileSystemStorage(location=str(OURS))
    storage = DigestNames(location=str(folder), base_url="/static/")
    names = [path.relative_to(OURS).as_posix() for path in OURS.rglob("*.*")]
    for name in names:
        with source.open(name) as file:
            storage.save(name, file)
    for _, _, processed in storage.post_process(
        {name: (source, name) for name in names}
    ):
        assert not isinstance(processed, Exception), processed
    return folder


def test_our_modules_import_each_other_by_their_digest_names(tmp_path: Path) -> None:
    folder = collected(tmp_path) / "shop" / "js"
    page = next(folder.glob("page.????????????.js")).read_text(encoding="utf-8")
    imports = [line for line in page.splitlines() if line.startswith("import")]
    assert imports
    for line in imports:
        name = line.split('"')[1].removeprefix("./")
        assert name.count(".") == 2, line
        assert (folder / name).exists()


def test_what_the_browser_fetches_is_there_compressed(tmp_path: Path) -> None:
    folder = collected(tmp_path) / "shop" / "css"
    assert list(folder.glob("tokens.????????????.css.gz"))
