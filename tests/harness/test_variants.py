"""One drawing, and each bike's differences."""

import os
from pathlib import Path

import pytest

from harness.errors import HarnessError, Problem
from harness.files import load, loads
from tests.harness.written import GOOD, line_of


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "base.toml").write_text(GOOD, encoding="utf-8")
    return tmp_path


def variant(folder: Path, body: str, *, base: str = "base.toml") -> Path:
    path = folder / "bike.toml"
    text = f'schema = 1\nextends = "{base}"\n{body}'
    path.write_text(text, encoding="utf-8")
    return path


def problems_of(path: Path) -> tuple[Problem, ...]:
    with pytest.raises(HarnessError) as caught:
        load(path)
    assert caught.value.name == str(path)
    return caught.value.problems


def test_a_variant_that_changes_nothing_is_the_base(folder: Path) -> None:
    assert load(variant(folder, "")) == load(folder / "base.toml")


def test_a_variant_takes_away_replaces_and_adds(folder: Path) -> None:
    body = """
title = "The police bike"
earth = "positive"
remove_wires = ["6", "7"]
remove_devices = ["tail-plug"]

[places.tray]
name = "Battery tray"

[devices.horn]
kind = "load"
watts = 60

[devices.siren]
kind = "motor"
ohms = 0.5

[[wires]]
id = "3"
from = "key-switch.15"
to = "horn.1"
ohms = 0.25

[[wires]]
id = "siren-feed"
from = "key-switch.15"
to = "siren.1"
mm2 = 2.5
metres = 1
"""
    base, bike = load(folder / "base.toml"), load(variant(folder, body))
    assert (bike.title, bike.earth, bike.volts) == ("The police bike", "positive", 12)
    assert base.devices.keys() ^ bike.devices.keys() == {"tail-plug", "siren"}
    assert base.wires.keys() ^ bike.wires.keys() == {"6", "7", "siren-feed"}
    assert bike.wires["3"].ohms == 0.25
    assert bike.wires["2"] == base.wires["2"]
    assert bike.places["tray"].name == "Battery tray"
    assert bike.places["headlamp-shell"].access_minutes == 4


def test_a_device_is_replaced_whole(folder: Path) -> None:
    bike = load(variant(folder, '[devices.battery]\nkind = "battery"\n'))
    assert bike.devices["battery"].place is None


def test_what_was_taken_away_may_be_put_back_otherwise(folder: Path) -> None:
    body = 'remove_wires = ["3"]\nremove_devices = ["horn"]\n'
    body += '[devices.horn]\nkind = "load"\nohms = 9\n[[wires]]\nid = "3"\n'
    body += 'from = "key-switch.15"\nto = "horn.1"\nohms = 1\n'
    assert load(variant(folder, body)).wires["3"].ohms == 1


def test_variants_of_variants_and_folders_below(folder: Path) -> None:
    (folder / "sub").mkdir()
    (folder / "base.toml").rename(folder / "sub" / "base.toml")
    middle = 'schema = 1\nextends = "base.toml"\nremove_wires = ["7"]\n'
    (folder / "sub" / "middle.toml").write_text(middle, encoding="utf-8")
    bike = load(variant(folder, 'remove_wires = ["6"]', base="sub/middle.toml"))
    assert not {"6", "7"} & bike.wires.keys()


def test_a_wire_of_the_base_to_a_device_taken_away(folder: Path) -> None:
    path = variant(folder, 'remove_devices = ["horn"]')
    first, second = problems_of(path)
    assert "was taken away" in first.what
    assert "take the wire away as well" in first.mend
    # the wires stand in the base, and so do the lines
    assert first.file == second.file == str(folder / "base.toml")
    assert first.line == line_of(GOOD, 'to = "horn.1"')
    assert second.line == line_of(GOOD, 'from = "horn.2"')


@pytest.mark.parametrize(
    ("body", "what", "mend"),
    [
        ('remove_wires = ["66"]', 'no "66" to take away', '"6"'),
        ('remove_devices = ["hron"]', 'no "hron"', "horn"),
        ("remove_wires = [6]", "a whole number in a list", '["...", "..."]'),
        ('remove_wires = "6"', "text where a list", '["...", "..."]'),
        ('remove = ["6"]', 'a harness has no key "remove"', "remove_"),
    ],
)
def test_what_a_variant_refuses(folder: Path, body: str, what: str, mend: str) -> None:
    (problem,) = problems_of(variant(folder, body))
    assert what in problem.what
    assert mend in problem.mend
    assert (problem.line, problem.file) == (3, "")


def test_problems_of_both_files_come_together_each_with_its_file(folder: Path) -> None:
    (folder / "base.toml").write_text(
        GOOD.replace("amps = 15", "amps = 0").replace("watts = 30", "watts = nan"),
        encoding="utf-8",
    )
    path = variant(folder, '[devices.siren]\nkind = "moter"\nohms = 1\n')
    with pytest.raises(HarnessError) as caught:
        load(path)
    assert [line.split(": ")[0] for line in str(caught.value).split("\n")] == [
        f"{path}:4",
        f"{folder / 'base.toml'}:{line_of(GOOD, 'amps = 15')}",
        f"{folder / 'base.toml'}:{line_of(GOOD, 'watts = 30')}",
    ]


def test_a_base_that_is_replaced_is_still_checked_where_it_counts(folder: Path) -> None:
    (folder / "base.toml").write_text(
        GOOD.replace("watts = 30", "watts = 0"), encoding="utf-8"
    )
    good = load(variant(folder, '[devices.horn]\nkind = "load"\nwatts = 30\n'))
    assert "horn" in good.devices


def test_a_base_that_is_not_toml(folder: Path) -> None:
    (folder / "base.toml").write_text("schema = 1\nvolts =", encoding="utf-8")
    first, *_ = [p for p in problems_of(variant(folder, "")) if p.file]
    assert (first.file, first.line) == (str(folder / "base.toml"), 2)


@pytest.mark.parametrize(
    ("base", "what"),
    [
        ("../base.toml", "not the path of a .toml file beside this one"),
        ("sub/../../base.toml", "not the path"),
        ("/etc/passwd", "not the path"),
        ("/etc/x.toml", "not the path"),
        ("..\\\\base.toml", "not the path"),
        ("C:base.toml", "not the path"),
        ("base.txt", "not the path"),
        ("base", "not the path"),
        ("", "not the path"),
        (".toml", "not the path"),
        ("a\\u0000.toml", "control characters"),
        ("bose.toml", "there is no file"),
        ("dir.toml", "there is no file"),
        ("pipe.toml", "there is no file"),
        ("link.toml", "leads out of the folder"),
        ("out/x.toml", "leads out of the folder"),
        ("bike.toml", "leads back to this file"),
        ("loop.toml", "leads out of the folder"),
        ("x" * 300 + ".toml", "leads out of the folder"),
    ],
)
def test_a_base_lies_in_the_folder_and_nowhere_else(
    folder: Path, tmp_path_factory: pytest.TempPathFactory, base: str, what: str
) -> None:
    outside = tmp_path_factory.mktemp("outside")
    (outside / "x.toml").write_text(GOOD, encoding="utf-8")
    (folder / "link.toml").symlink_to(outside / "x.toml")
    (folder / "out").symlink_to(outside, target_is_directory=True)
    (folder / "dir.toml").mkdir()
    (folder / "loop.toml").symlink_to(folder / "loop.toml")
    os.mkfifo(folder / "pipe.toml")
    problems = problems_of(variant(folder, "", base=base))
    assert any(what in p.what and p.line == 2 for p in problems), problems


def test_a_misspelt_base_is_told_with_its_neighbour(folder: Path) -> None:
    problems = problems_of(variant(folder, "", base="bose.toml"))
    assert any('did you mean "base.toml"' in p.mend for p in problems)


def test_a_base_that_is_not_there_is_the_only_thing_told(folder: Path) -> None:
    (problem,) = problems_of(variant(folder, "", base="bose.toml"))
    assert problem.what == 'there is no file "bose.toml"'


def test_files_that_extend_each_other_in_a_ring(folder: Path) -> None:
    for name, base in (("a", "b"), ("b", "c"), ("c", "a")):
        text = f'schema = 1\nextends = "{base}.toml"\n'
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    (problem,) = problems_of(folder / "a.toml")
    assert "leads back to this file" in problem.what
    assert problem.file == str(folder / "c.toml")


@pytest.mark.parametrize(("bases", "good"), [(8, True), (9, False)])
def test_eight_deep_is_the_most(folder: Path, *, bases: int, good: bool) -> None:
    (folder / "base.toml").rename(folder / f"b{bases}.toml")
    for n in range(bases):
        text = f'schema = 1\nextends = "b{n + 1}.toml"\n'
        (folder / f"b{n}.toml").write_text(text, encoding="utf-8")
    if good:
        assert load(folder / "b0.toml").wires
        text = (folder / "b0.toml").read_text(encoding="utf-8")
        assert loads(text, base_dir=folder).wires
    else:
        (problem,) = problems_of(folder / "b0.toml")
        assert problem.what == "more than 8 files extend one another"


def test_a_text_on_its_own_needs_a_folder(folder: Path) -> None:
    text = variant(folder, "").read_text(encoding="utf-8")
    with pytest.raises(HarnessError, match="cannot extend a file") as caught:
        loads(text)
    assert len(caught.value.problems) == 1
    assert loads(text, base_dir=folder) == load(folder / "base.toml")


def test_taking_away_without_a_base() -> None:
    with pytest.raises(HarnessError, match="without a base to take from"):
        loads(GOOD.replace("volts = 12", 'volts = 12\nremove_wires = ["1"]', 1))


def test_the_limits_on_wires_hold_over_all_files(folder: Path) -> None:
    wires = "".join(
        f'[[wires]]\nid = "x{n}"\nfrom = "j1.1"\nto = "j1.2"\nohms = 1\n'
        for n in range(4994)
    )
    (problem,) = problems_of(variant(folder, wires))
    assert problem.what == "there are 5001 wires"
