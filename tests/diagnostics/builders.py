"""Real parts for the tests of the bench: an invented loom and the rows around it."""

from typing import Any

from diagnostics.actions.cases import open_case
from diagnostics.actions.findings import record_complaint
from diagnostics.actions.harness_files import upload_harness
from diagnostics.actions.repairs import RepairEntry, record_repair
from diagnostics.convert import FindingEntry
from diagnostics.models import Case, HarnessFile
from shop.models import User, WorkOrder
from tests.builders import MORNING, BikeFactory, UserFactory, WorkOrderFactory

# A horn, its button, a fuse and a two-filament rear lamp: small enough to follow by
# hand, with a standing feed, a switched feed, a return and a plug in it.
BENCH_TOML = """\
schema = 1
title  = "Bench example: horn and rear lamp"
volts  = 12
earth  = "negative"

[places.battery-tray]
name = "Battery tray"
access_minutes = 3

[places.headlamp-shell]
name = "Headlamp shell"
access_minutes = 4

[places.rear-mudguard]
name = "Rear mudguard"
access_minutes = 2

[devices.battery]
kind = "battery"
emf = 12.6
ohms = 0.02
place = "battery-tray"

[devices.frame]
kind = "body"

[devices.main-fuse]
kind = "fuse"
amps = 15
place = "battery-tray"

[devices.key-switch]
kind = "switch"
positions = ["OFF", "ON"]
joins = { ON = [["30", "15"]] }
place = "headlamp-shell"

[devices.horn-button]
kind = "switch"
momentary = true
positions = ["OUT", "PRESSED"]
joins = { PRESSED = [["1", "2"]] }
place = "headlamp-shell"

[devices.brake-switch]
kind = "switch"
momentary = true
positions = ["OUT", "PRESSED"]
joins = { PRESSED = [["1", "2"]] }
place = "rear-mudguard"

[devices.horn]
kind = "load"
watts = 30
at_volts = 12
place = "headlamp-shell"

[devices.rear-lamp]
kind = "lamp"
filaments = [
  { name = "tail", pins = ["T", "E"], watts = 5 },
  { name = "stop", pins = ["S", "E"], watts = 21 },
]
place = "rear-mudguard"

[devices.tail-plug]
kind = "plug"
cavities = ["1", "2", "3"]
place = "rear-mudguard"

[[wires]]
id = "1"
from = "battery.pos"
to = "main-fuse.1"
colour = "RD"
mm2 = 1.5
metres = 0.3

[[wires]]
id = "2"
from = "main-fuse.2"
to = "key-switch.30"
colour = "RDWH"
mm2 = 1.5
metres = 0.9

[[wires]]
id = "3"
from = "key-switch.15"
to = "horn.1"
colour = "BU"
mm2 = 1.0
metres = 0.4

[[wires]]
id = "4"
from = "horn.2"
to = "horn-button.1"
colour = "GYBK"
mm2 = 1.0
metres = 0.6

[[wires]]
id = "5"
from = "horn-button.2"
to = "frame.steering-head"
colour = "BN"
mm2 = 1.0
metres = 0.3

[[wires]]
id = "6"
from = "key-switch.15"
to = "tail-plug.1a"
colour = "BUWH"
mm2 = 1.0
metres = 1.3

[[wires]]
id = "7"
from = "tail-plug.1b"
to = "rear-lamp.T"
colour = "GY"
mm2 = 0.75
metres = 0.4

[[wires]]
id = "8"
from = "key-switch.15"
to = "brake-switch.1"
colour = "BU"
mm2 = 1.0
metres = 1.1

[[wires]]
id = "9"
from = "brake-switch.2"
to = "tail-plug.2a"
colour = "BKRD"
mm2 = 1.0
metres = 0.3

[[wires]]
id = "10"
from = "tail-plug.2b"
to = "rear-lamp.S"
colour = "BKRD"
mm2 = 0.75
metres = 0.4

[[wires]]
id = "11"
from = "rear-lamp.E"
to = "tail-plug.3b"
colour = "BN"
mm2 = 0.75
metres = 0.4

[[wires]]
id = "12"
from = "tail-plug.3a"
to = "frame.rear"
colour = "BN"
mm2 = 1.0
metres = 0.2

[[wires]]
id = "13"
kind = "strap"
from = "battery.neg"
to = "frame.battery"
colour = "BK"
mm2 = 10
metres = 0.3
"""

HORN = {"key-switch": "ON", "horn-button": "PRESSED"}
STOP = {"key-switch": "ON", "brake-switch": "PRESSED"}
TAIL = {"key-switch": "ON"}


def a_library_file(**changes: str) -> HarnessFile:
    """Return the bench example in the library."""
    words = {"maker": "Tarnfell", "model": "Heron 350", "years": "1961", **changes}
    text = words.pop("text", BENCH_TOML)
    return upload_harness(
        **words,
        content=text.encode(),
        acting_user=UserFactory.create(),
        at=MORNING,
    )


def a_work_order(**changes: Any) -> WorkOrder:
    """Return a work order on a bike of the bench example's kind."""
    bike = BikeFactory.create(earth="negative", system_volts=12)
    complaint = "Horn is dead, the lamps work."
    return WorkOrderFactory.create(**{"bike": bike, "complaint": complaint, **changes})


def a_case(technician: User | None = None) -> Case:
    """Return an open hunt for a dead horn, with no finding yet."""
    return open_case(
        work_order_id=a_work_order().pk,
        harness_file_id=a_library_file().pk,
        title="Horn dead",
        acting_user=technician or UserFactory.create(),
        at=MORNING,
    )


def eye(device: str, reads: str, rig: dict[str, Any]) -> FindingEntry:
    """Return what somebody saw or heard."""
    return FindingEntry(tool="eye", device=device, rig=rig, reads=reads)


def lamp(probe: str, reads: str, rig: dict[str, Any] | None = None) -> FindingEntry:
    """Return a test lamp's finding against the frame."""
    return FindingEntry(tool="test-lamp", probe=probe, rig=rig or HORN, reads=reads)


DEAD_HORN = (
    eye("horn", "dead", HORN),
    eye("rear-lamp.stop", "works", STOP),
    eye("rear-lamp.tail", "works", TAIL),
)


def a_case_with_complaint(technician: User | None = None) -> Case:
    """Return a hunt whose complaint is taken down: the horn is dead, all else works."""
    person = technician or UserFactory.create()
    case = a_case(person)
    record_complaint(
        case_id=case.pk, eyes=DEAD_HORN, key="complaint", acting_user=person, at=MORNING
    )
    case.refresh_from_db()
    return case


TWO_DEAD = (
    eye("horn", "dead", HORN),
    eye("rear-lamp.stop", "dead", STOP),
    eye("rear-lamp.tail", "works", TAIL),
)


def a_case_of_two_faults(technician: User | None = None) -> Case:
    """Return a hunt in which horn and stop lamp are dead, and the tail works."""
    person = technician or UserFactory.create()
    case = a_case(person)
    record_complaint(
        case_id=case.pk, eyes=TWO_DEAD, key="complaint", acting_user=person, at=MORNING
    )
    case.refresh_from_db()
    return case


def a_repaired_case(technician: User | None = None) -> Case:
    """Return a hunt whose repair waits for its proof."""
    person = technician or UserFactory.create()
    case = a_case_with_complaint(person)
    record_repair(
        case_id=case.pk,
        entry=RepairEntry(
            done="Horn earth wire broken at the button; new wire crimped in.",
            segments=["wire:5"],
            mode="open",
        ),
        key="repair",
        acting_user=person,
        at=MORNING,
    )
    case.refresh_from_db()
    return case
