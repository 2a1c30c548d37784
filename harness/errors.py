"""What can be wrong with a harness, a finding or a network, as typed values."""

from dataclasses import dataclass

from typing_extensions import override


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong with what was given.

    Attributes
    ----------
    what : str
        The fault in plain words, with the offending text in it.
    where : str
        The part concerned, such as ``devices.horn`` or ``wires[3]``.
    mend : str
        What would put it right.
    line : int or None
        Line of the file, counted from 1; None where there is no file.
    file : str
        The file that the line is in; empty where it is the one that was loaded.
    """

    what: str
    where: str
    mend: str
    line: int | None = None
    file: str = ""

    @override
    def __str__(self) -> str:
        """Give the problem as one sentence, without the file name."""
        return f"{self.where}: {self.what}; {self.mend}"


class HarnessError(ValueError):
    """The harness, rig or finding cannot be used; `problems` says why.

    Parameters
    ----------
    problems : tuple of Problem
        Everything that is wrong, in the order of the file; never empty.
    name : str
        The file or other source, used as a prefix in the message.
    """

    def __init__(self, problems: tuple[Problem, ...], *, name: str = "") -> None:
        self.problems = problems
        self.name = name
        super().__init__("\n".join(self.lines()))

    def lines(self) -> list[str]:
        """Return one line a problem, as ``name:line: what``."""
        return [self._line(problem) for problem in self.problems]

    def _line(self, problem: Problem) -> str:
        name, line = problem.file or self.name, str(problem.line or "")
        place = ":".join(part for part in (name, line) if part)
        return f"{place}: {problem}" if place else str(problem)


class SingularNetwork(ArithmeticError):  # noqa: N818 - the house's word for it
    """No single operating point exists; `reasons` names the physical causes."""

    def __init__(self, reasons: tuple[str, ...]) -> None:
        self.reasons = reasons
        super().__init__("; ".join(reasons))
