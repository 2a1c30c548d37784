"""Refusals of the bench that carry more than one sentence."""

from dataclasses import dataclass

import harness
from shop.domain.refusals import Refusal


@dataclass(frozen=True, slots=True)
class ProblemLine:
    """One thing wrong in an uploaded harness file; `line` counts from 1."""

    line: int | None
    where: str
    what: str
    mend: str


class HarnessFileRefused(Refusal):
    """The uploaded file is no usable harness; `problems` lists everything wrong."""

    def __init__(self, problems: tuple[ProblemLine, ...]) -> None:
        count = len(problems)
        found = "1 problem" if count == 1 else f"{count} problems"
        super().__init__(
            "harness-file-refused",
            f"The file was not taken: {found}. Mend what is listed and send it again; "
            "nothing was saved.",
            "file",
        )
        self.problems = problems

    @classmethod
    def from_engine(cls, error: harness.HarnessError) -> "HarnessFileRefused":
        """Return the refusal for what the engine found wrong."""
        return cls(
            tuple(
                ProblemLine(line=p.line, where=p.where, what=p.what, mend=p.mend)
                for p in error.problems
            )
        )


@dataclass(frozen=True, slots=True)
class ReadingProblem:
    """What is wrong with one reading of a measurement, and what mends it."""

    field: str
    message: str


class ReadingsRefused(Refusal):
    """Readings that cannot be true; `problems` has one for each reading to blame."""

    def __init__(self, problems: tuple[ReadingProblem, ...]) -> None:
        first = problems[0]
        said = " ".join(problem.message for problem in problems)
        super().__init__("readings-refused", said, first.field)
        self.problems = problems

    @classmethod
    def from_engine(cls, error: harness.HarnessError) -> "ReadingsRefused":
        """Return the refusal for what the limits could not be held against."""
        return cls(
            tuple(
                ReadingProblem(field=p.where, message=f"{_capital(p.what)}; {p.mend}.")
                for p in error.problems
            )
        )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
