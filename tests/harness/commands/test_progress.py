"""How far a rehearsal has come: a bar at a terminal, a few lines in a file."""

from io import StringIO

from typing_extensions import override

from harness.commands.progress import Bar


class Terminal(StringIO):
    """A stream that says that somebody is looking."""

    @override
    def isatty(self) -> bool:
        return True


class Clock:
    """A clock that goes on by a second whenever it is looked at."""

    def __init__(self) -> None:
        self.seconds = -1.0

    def __call__(self) -> float:
        self.seconds += 1.0
        return self.seconds


def test_a_file_gets_a_line_for_each_tenth() -> None:
    stream = StringIO()
    bar = Bar(stream, "faults", Clock())
    for done in range(201):
        bar(done, 200)
    lines = stream.getvalue().splitlines()
    assert len(lines) == 11
    assert lines[0] == "0 of 200 faults"
    assert lines[1].startswith("20 of 200 faults, ")
    assert lines[-1] == "200 of 200 faults"


def test_a_terminal_gets_one_line_that_fills() -> None:
    stream = Terminal()
    bar = Bar(stream, "faults", Clock())
    for done in (0, 50, 100):
        bar(done, 100)
    text = stream.getvalue()
    assert text.count("\n") == 1
    assert text.endswith("\n")
    assert "[" + "#" * 15 + "." * 15 + "] 50 of 100 faults, 1 s left" in text
    assert "[" + "#" * 30 + "] 100 of 100 faults" in text


def test_minutes_are_told_where_it_takes_long() -> None:
    stream = StringIO()
    now = [0.0]
    bar = Bar(stream, "faults", lambda: now[0])
    now[0] = 30.0
    bar(10, 100)
    assert stream.getvalue() == "10 of 100 faults, about 4 min 30 s left\n"


def test_nothing_to_do_is_done_at_once() -> None:
    stream = Terminal()
    Bar(stream, "faults", Clock())(0, 0)
    assert "0 of 0 faults" in stream.getvalue()
