"""The command line: ``python -m harness COMMAND ...``.

Exit codes: 0 done; 1 a file or its findings are bad, with one problem a line on
standard error as ``file:line: what``; 2 wrong use. With ``--json`` standard output is
one JSON document and nothing else.
"""

import json
from argparse import ArgumentParser
from collections.abc import Sequence
from typing import TextIO

from harness.commands.check import CHECK
from harness.commands.command import Command, WrongUse
from harness.commands.locate import LOCATE
from harness.commands.rehearse import REHEARSE
from harness.commands.solve import SOLVE
from harness.errors import HarnessError

COMMANDS: tuple[Command, ...] = (CHECK, SOLVE, LOCATE, REHEARSE)

DONE, BAD_FILE, WRONG_USE = 0, 1, 2


def run(arguments: Sequence[str], *, out: TextIO, err: TextIO) -> int:
    """Carry out one command.

    Parameters
    ----------
    arguments : sequence of str
        Those after the program's name.
    out, err : text streams
        Where the answer and the problems go.

    Returns
    -------
    int
        The exit code.

    Raises
    ------
    SystemExit
        With code 2 and a usage message from `argparse`, or 0 after ``--help``.
    """
    given = _parser().parse_args(arguments)
    command: Command = given.command
    given.err = err
    try:
        answer = command.run(given)
    except HarnessError as error:
        err.writelines(f"{line}\n" for line in error.lines())
        if given.json:
            out.write(_json(_refusal(error)))
        return BAD_FILE
    except WrongUse as error:
        err.write(f"python -m harness {command.name}: {error}\n")
        return WRONG_USE
    out.write(_json(answer.document) if given.json else answer.text)
    return DONE


def _parser() -> ArgumentParser:
    parser = ArgumentParser(
        prog="python -m harness",
        description="The electrics of a motorcycle, from a harness file.",
        epilog="Exit codes: 0 done, 1 a file is bad, 2 wrong use.",
    )
    commands = parser.add_subparsers(metavar="COMMAND", required=True)
    for command in COMMANDS:
        own = commands.add_parser(command.name, help=command.about)
        command.arguments(own)
        own.add_argument("--json", action="store_true", help="answer as JSON")
        own.set_defaults(command=command)
    return parser


def _refusal(error: HarnessError) -> dict[str, object]:
    return {
        "file": error.name,
        "good": False,
        "problems": [
            {
                "file": problem.file or error.name,
                "line": problem.line,
                "where": problem.where,
                "what": problem.what,
                "mend": problem.mend,
            }
            for problem in error.problems
        ],
    }


def _json(document: dict[str, object]) -> str:
    return json.dumps(document, indent=2, allow_nan=False) + "\n"
