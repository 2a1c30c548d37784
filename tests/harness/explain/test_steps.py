"""One link in the chain from findings to a verdict."""

import pytest

from harness.explain.steps import Step, capital, listed, percent


def test_a_step_as_plain_data() -> None:
    step = Step("Wire 7 is sound.", ("f2",), ("wire:7",))
    assert step.as_data() == {
        "sentence": "Wire 7 is sound.",
        "findings": ["f2"],
        "segments": ["wire:7"],
    }


@pytest.mark.parametrize(
    ("names", "words"),
    [((), ""), (("f1",), "f1"), (("f1", "f2"), "f1 and f2")],
)
def test_names_in_a_row(names: tuple[str, ...], words: str) -> None:
    assert listed(names) == words
    assert listed(("f1", "f2", "f3")) == "f1, f2 and f3"


@pytest.mark.parametrize(
    ("p", "words"),
    [(0.0, "under 1 %"), (0.009, "under 1 %"), (0.31, "31 %"), (0.995, "over 99 %")],
)
def test_nothing_is_ever_certain(p: float, words: str) -> None:
    assert percent(p) == words


def test_a_sentence_begins_large() -> None:
    assert capital("horn is dead") == "Horn is dead"
    assert capital("") == ""
