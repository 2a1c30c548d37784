"""What is wrong with a segment, as it is said of it."""

import pytest

from harness.explain.states import state_words
from harness.faults import fault_from, single_faults
from tests.harness.conflict.cases import bike


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (("wire:5", "open"), "open"),
        (("wire:5", "resistive", 3.0), "making bad contact (about 3 ohm)"),
        (("wire:4", "earthed"), "chafed through to earth"),
        (("fuse:main-fuse", "blown"), "blown"),
        (("device:horn", "dead"), "dead inside"),
        (("device:horn", "shorted"), "shorted inside"),
        (("switch:horn-button.PRESSED.1-2", "stuck"), "stuck closed"),
        (("battery:battery", "weak"), "weak"),
    ],
)
def test_every_state_has_its_words(given: tuple[object, ...], words: str) -> None:
    assert state_words(bike(), fault_from(bike(), given)) == words


def test_what_is_crossed_names_the_other() -> None:
    crossed = fault_from(bike(), ("plug:tail-plug.1", "crossed", "plug:tail-plug.2"))
    assert state_words(bike(), crossed) == "crossed with tail plug, cavity 2"


def test_no_fault_is_without_words() -> None:
    for fault in single_faults(bike()):
        assert state_words(bike(), fault)
