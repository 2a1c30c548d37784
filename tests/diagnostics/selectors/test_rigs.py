"""What a free finding can name."""

import pytest

from diagnostics.selectors.rigs import rig_choices
from shop.domain.refusals import NotFound
from tests.builders import UserFactory
from tests.diagnostics.builders import TAIL, a_case, a_case_with_complaint

pytestmark = pytest.mark.django_db


def test_every_switch_plug_and_terminal_of_the_loom_is_offered() -> None:
    choices = rig_choices(case_id=a_case().pk, viewer=UserFactory.create().as_viewer())
    assert [(s.device, s.positions) for s in choices.switches] == [
        ("brake-switch", ("OUT", "PRESSED")),
        ("horn-button", ("OUT", "PRESSED")),
        ("key-switch", ("OFF", "ON")),
    ]
    assert [plug.name for plug in choices.plugs] == ["tail-plug"]
    assert "frame" not in [item.name for item in choices.removable]
    assert "main-fuse" in [item.name for item in choices.removable]
    assert [item.name for item in choices.watchable] == [
        "horn",
        "main-fuse",
        "rear-lamp.tail",
        "rear-lamp.stop",
    ]
    assert "horn.1" in [item.name for item in choices.terminals]
    assert not choices.has_charger
    assert choices.first_body.startswith("frame.")
    assert choices.last_rig == {}


def test_every_wire_is_offered_by_number_with_its_letters_and_ends() -> None:
    choices = rig_choices(case_id=a_case().pk, viewer=UserFactory.create().as_viewer())
    assert [wire.name for wire in choices.wires] == [str(n) for n in range(1, 14)]
    assert [wire.letters for wire in choices.wires[:4]] == ["RD", "RDWH", "BU", "GYBK"]
    assert choices.wires[2].words == "BU blue: key switch, pin 15 to horn, pin 1"


def test_the_rig_last_used_is_offered_again() -> None:
    case = a_case_with_complaint()
    choices = rig_choices(case_id=case.pk, viewer=UserFactory.create().as_viewer())
    assert choices.last_rig == TAIL
    with pytest.raises(NotFound):
        rig_choices(case_id=10**15, viewer=UserFactory.create().as_viewer())
