"""How far a long command has come, on standard error."""

from collections.abc import Callable
from typing import TextIO

WIDTH = 30
# Where the stream is a file or a pipe, a line for each of so many parts of the whole.
PARTS = 10


class Bar:
    """A bar that fills at a terminal; elsewhere a line now and then.

    Parameters
    ----------
    stream : text stream
        Standard error, so that standard output stays the answer alone.
    what : str
        What is counted, in the plural: ``faults``.
    clock : callable
        Seconds since some moment.
    """

    def __init__(self, stream: TextIO, what: str, clock: Callable[[], float]) -> None:
        self.stream = stream
        self.what = what
        self.clock = clock
        self.began = clock()
        self.at_terminal = stream.isatty()
        self.told = -1

    def __call__(self, done: int, total: int) -> None:
        """Show that `done` of `total` are done."""
        steps = PARTS if not self.at_terminal else WIDTH * 4
        step = steps * done // total if total else steps
        if step == self.told:
            return
        self.told = step
        said = f"{done} of {total} {self.what}{self._left(done, total)}"
        if not self.at_terminal:
            self.stream.write(f"{said}\n")
        else:
            filled = WIDTH * done // total if total else WIDTH
            bar = "#" * filled + "." * (WIDTH - filled)
            # Back to the line's start, and what an earlier line left is wiped out.
            self.stream.write(f"\r[{bar}] {said}\x1b[K")
            if done >= total:
                self.stream.write("\n")
        self.stream.flush()

    def _left(self, done: int, total: int) -> str:
        """Return about how long it will take yet."""
        if not 0 < done < total:
            return ""
        seconds = (self.clock() - self.began) * (total - done) / done
        minutes, rest = divmod(round(seconds), 60)
        return f", about {minutes} min {rest} s left" if minutes else f", {rest} s left"
