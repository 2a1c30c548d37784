"""``python -m harness``: see `harness.command_line`."""

import os
import sys

from harness.command_line import run


def main() -> int:
    """Run one command on this process's own streams."""
    for stream in (sys.stdout, sys.stderr):
        # A title may hold letters that the terminal has not: show them as escapes.
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    try:
        code = run(sys.argv[1:], out=sys.stdout, err=sys.stderr)
        sys.stdout.flush()
    except BrokenPipeError:
        # The reader, such as `head`, has had enough; nothing more can be told to it.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    return code


if __name__ == "__main__":
    sys.exit(main())
