"""Tests mirror the code: whoever knows one path knows the other."""

from collections.abc import Iterable
from pathlib import PurePosixPath

from tests.rules.source import CODE, ROOT, code, sources

# Layers whose every module has a test module of its own name.
TESTED = {"domain", "actions", "selectors"}
# Packages that hold only what is tested through their callers.
FREE = {"rules", "journeys", "benchmarks", "cases"}


def mirror_of(module: str) -> str:
    """Return where the test of a module stands."""
    path = PurePosixPath(module)
    return str(PurePosixPath("tests") / path.parent / f"test_{path.name}")


def untested(modules: Iterable[str], tests: set[str]) -> list[str]:
    """Return the modules without a test module of their name.

    A noun with much to say may have several: test_bikes.py, test_bikes_search.py.
    """
    return [
        module
        for module in modules
        if not any(
            test == mirror_of(module)
            or test.startswith(mirror_of(module).removesuffix(".py") + "_")
            for test in tests
        )
    ]


def homeless(folders: Iterable[str], code_folders: set[str]) -> list[str]:
    """Return the test folders that mirror no folder of the code."""
    return [
        folder
        for folder in folders
        if folder.split("/")[0] in CODE and folder not in code_folders
    ]


def test_every_module_of_the_core_has_its_test_module() -> None:
    modules = [
        source.path
        for source in code()
        if (source.path.startswith("harness/") or source.layer in TESTED)
        and PurePosixPath(source.path).name not in {"__init__.py", "__main__.py"}
        and not PurePosixPath(source.path).name.startswith("_")
    ]
    tests = {source.path for source in sources("tests")}
    assert untested(modules, tests) == []


def test_every_test_folder_mirrors_a_folder_of_the_code() -> None:
    folders = {
        str(PurePosixPath(source.path).parent.relative_to("tests"))
        for source in sources("tests")
        if PurePosixPath(source.path).name.startswith("test_")
    }
    assert {folder.split("/")[0] for folder in folders} <= {*CODE, *FREE, "."}
    here = {str(PurePosixPath(source.path).parent) for source in code()}
    assert homeless(sorted(folders), here) == []


def test_every_test_folder_is_a_package() -> None:
    lacking = sorted(
        str(path.parent.relative_to(ROOT))
        for path in (ROOT / "tests").rglob("test_*.py")
        if not (path.parent / "__init__.py").exists()
    )
    assert lacking == []


def test_the_rule_sees_a_module_without_a_test_and_a_test_without_a_module() -> None:
    tests = {
        "tests/shop/actions/test_bikes.py",
        "tests/shop/actions/test_parts_race.py",
    }
    assert untested(["shop/actions/bikes.py", "shop/actions/parts.py"], tests) == []
    assert untested(["shop/actions/paper.py"], tests) == ["shop/actions/paper.py"]
    assert homeless(["shop/actions", "shop/services"], {"shop/actions"}) == [
        "shop/services"
    ]
