"""The command line as a whole: exit codes, streams, the real process."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from harness.command_line import COMMANDS
from tests.harness.commands.shell import harness
from tests.harness.written import GOOD

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize(
    "arguments", [[], ["chek"], ["check"], ["check", "a", "b"], ["check", "a", "--jsn"]]
)
def test_wrong_use_is_two(
    arguments: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as caught:
        harness(*arguments)
    assert caught.value.code == 2
    shown = capsys.readouterr()
    assert shown.out == ""
    assert "usage: python -m harness" in shown.err


def test_help_names_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as caught:
        harness("--help")
    assert caught.value.code == 0
    shown = capsys.readouterr().out
    assert all(f" {command.name} " in shown for command in COMMANDS)
    assert "Exit codes: 0 done, 1 a file is bad, 2 wrong use." in shown


def process(
    *arguments: str, encoding: str = "utf-8"
) -> "subprocess.CompletedProcess[bytes]":
    return subprocess.run(
        [sys.executable, "-m", "harness", *arguments],
        cwd=ROOT,
        env={"PYTHONIOENCODING": encoding},
        capture_output=True,
        check=False,
    )


def test_the_real_process_answers_and_exits_alike(tmp_path: Path) -> None:
    path = tmp_path / "bike.toml"
    path.write_text(GOOD.replace("Horn, tail", "Hupe für Zündung"), encoding="utf-8")
    done = process("check", str(path), "--json")
    assert done.returncode == 0
    assert json.loads(done.stdout)["title"] == "Hupe für Zündung and starter"
    assert "Hupe für" in process("check", str(path)).stdout.decode()
    # a terminal without the letters still shows the rest
    poor = process("check", str(path), encoding="ascii")
    assert poor.returncode == 0
    assert "Hupe f\\xfcr" in poor.stdout.decode()
    path.write_text("schema =", encoding="utf-8")
    assert process("check", str(path)).returncode == 1
    assert process("check").returncode == 2


def test_the_engine_needs_no_web_framework() -> None:
    code = "import sys, harness.command_line; print('django' in sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, check=True
    )
    assert done.stdout.strip() == b"False"
