"""Running the command line in this process."""

import io
from dataclasses import dataclass

from harness.command_line import run


@dataclass(frozen=True)
class Shown:
    """What a command left on the screen."""

    code: int
    out: str
    err: str


def harness(*arguments: str) -> Shown:
    """Run one command and return what it showed."""
    out, err = io.StringIO(), io.StringIO()
    code = run(arguments, out=out, err=err)
    return Shown(code, out.getvalue(), err.getvalue())
