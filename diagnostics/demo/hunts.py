"""The two fault hunts: one repaired and proven, one that waits for the newcomer.

What was read is not written down here: each reading is what the invented bike, with
its hidden fault, shows in that test. So the findings stay true when a drawing changes.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal

from diagnostics.actions.cases import open_case, prove_case
from diagnostics.actions.findings import (
    record_complaint,
    record_finding,
    record_retest,
)
from diagnostics.actions.repairs import RepairEntry, record_repair
from diagnostics.demo import invented
from diagnostics.demo.jobs import labour, move, part
from diagnostics.demo.measured import (
    AFTER_THE_REPAIR,
    BEFORE_THE_HUNT,
    Measured,
    measure,
)
from diagnostics.demo.meter import Meter, meter_of
from diagnostics.demo.shop_floor import ShopFloor
from diagnostics.demo.tags import entry_for
from diagnostics.demo.tasks import pass_check
from diagnostics.lifecycle import Origin
from diagnostics.selectors.advice import AdvisedTest
from diagnostics.selectors.cases import CasePage, case_page
from shop.actions.paper import request_report
from shop.actions.work_orders import book_in, edit_work_order
from shop.domain.labour import LabourKind
from shop.domain.lifecycle import Event
from shop.domain.work_orders import Intake
from shop.models import User

MOST_TESTS = 20
MINUTES_A_TEST = 4


@dataclass(slots=True)
class Hunt:
    """A hunt while it is written down: who hunts, where, and how late it is."""

    case_id: int
    meter: Meter
    technician: User
    at: datetime
    taken: int = 0

    def page(self) -> CasePage:
        """Return the case as the technician sees it now."""
        return case_page(case_id=self.case_id, viewer=self.technician.as_viewer())

    def later(self) -> datetime:
        """Let some minutes pass and return the time."""
        self.at += timedelta(minutes=MINUTES_A_TEST)
        return self.at

    def complain(self) -> None:
        """Try every consumer, and write down what works, is weak or dead."""
        record_complaint(
            case_id=self.case_id,
            eyes=self.meter.complaint(),
            key="demo-complaint",
            acting_user=self.technician,
            at=self.later(),
        )

    def follow(self, test: AdvisedTest) -> None:
        """Take an advised test."""
        self.taken += 1
        record_finding(
            case_id=self.case_id,
            entry=self.meter.read(entry_for(test)),
            origin=Origin.ADVISED,
            key=f"demo-{self.taken}",
            acting_user=self.technician,
            at=self.later(),
        )

    def retest_all(self) -> None:
        """Take every failed test again, on the mended bike."""
        for number, wanted in enumerate(self.page().retests, start=1):
            finding = wanted.finding
            record_retest(
                finding_id=finding.finding_id,
                reads=self.meter.read(entry_for(finding)).reads,
                key=f"demo-retest-{number}",
                acting_user=self.technician,
                at=self.later(),
            )


def fill_hunts(floor: ShopFloor) -> int:
    """Write both hunts; return the case that waits for the newcomer."""
    _repaired(floor)
    return _open(floor)


def _begin(
    floor: ShopFloor, bike: str, title: str, order_id: int, at: datetime
) -> Hunt:
    case = open_case(
        work_order_id=order_id,
        harness_file_id=floor.drawings[invented.BIKES[bike].drawing],
        title=title,
        acting_user=floor.technician,
        at=at,
    )
    meter = meter_of(bike, mended=False)
    return Hunt(case_id=case.pk, meter=meter, technician=floor.technician, at=at)


def _repaired(floor: ShopFloor) -> None:
    order = book_in(
        bike_id=floor.bikes[invented.REPAIRED],
        complaint="Headlamp is no better than a candle on dip, and on main there is "
        "nothing to be seen. A new bulb made no difference.",
        acting_user=floor.front_desk,
        at=floor.calendar.at(20, 10, 5),
        intake=Intake(
            intake_notes="Ridden in. Battery is new.",
            approved_amount=Decimal(400),
            approved_by_name=invented.LENNART,
            approved_how="at the counter",
        ),
    )
    move(floor, order.pk, Event.START_WORK, by=floor.technician, when=(19, 9, 0))
    hunt = _begin(
        floor,
        invented.REPAIRED,
        "Headlamp weak on dip, dark on main",
        order.pk,
        floor.calendar.at(19, 9, 10),
    )
    hunt.complain()
    _hunt_down(hunt)
    record_repair(
        case_id=hunt.case_id,
        entry=RepairEntry(
            done="The headlamp's earth wire was green inside its insulation and hung "
            "on three strands at the earth joint in the shell. New wire, new ends, "
            "joint cleaned and greased.",
            segments=(hunt.meter.segment,),
            mode=hunt.meter.mode,
            parts="Eyelets from the box on the bench",
        ),
        key="demo-repair",
        acting_user=floor.technician,
        at=hunt.later(),
    )
    hunt.meter = meter_of(invented.REPAIRED, mended=True)
    hunt.retest_all()
    _measure(AFTER_THE_REPAIR, hunt)
    prove_case(case_id=hunt.case_id, acting_user=floor.technician, at=hunt.later())
    _bill(floor, order.pk)
    move(floor, order.pk, Event.FINISH_WORK, by=floor.technician, when=(19, 15, 0))
    pass_check(floor, order, floor.calendar.at(18, 9, 20))
    move(floor, order.pk, Event.SIGN_OFF, by=floor.owner, when=(18, 9, 30))
    request_report(
        work_order_id=order.pk,
        acting_user=floor.front_desk,
        at=floor.calendar.at(18, 9, 40),
    )


def _hunt_down(hunt: Hunt) -> None:
    """Follow the advice until one explanation is left, and then make sure of it."""
    for _ in range(MOST_TESTS):
        belief = hunt.page().belief
        wanted = belief.confirming if belief.isolated else belief.tests[0]
        if wanted is None:
            return
        hunt.follow(wanted)
    raise RuntimeError(f"the demo's hunt took more than {MOST_TESTS} tests")


def _measure(measured: Measured, hunt: Hunt) -> None:
    measure(measured, case_id=hunt.case_id, technician=hunt.technician, at=hunt.later())
    for _ in measured:
        hunt.later()


def _bill(floor: ShopFloor, order_id: int) -> None:
    labour(
        floor,
        order_id,
        LabourKind.FAULT_FINDING,
        55,
        "Fault found in the headlamp's earth wire",
        when=(19, 10, 30),
    )
    labour(
        floor,
        order_id,
        LabourKind.REPAIR,
        35,
        "Earth wire renewed, tests taken again, lamps and charging checked",
        when=(19, 11, 30),
    )
    part(floor, order_id, invented.CABLE, "0.5", when=(19, 11, 0))
    part(floor, order_id, invented.SLEEVE, "0.1", when=(19, 11, 2))
    edit_work_order(
        work_order_id=order_id,
        changes={
            "work_done": "The headlamp had lost its way home: one earth wire, green "
            "inside. It is renewed, and every test that failed was taken again and is "
            "good now. Nothing else was found wanting."
        },
        acting_user=floor.technician,
        at=floor.calendar.at(19, 14, 50),
    )


def _open(floor: ShopFloor) -> int:
    order = book_in(
        bike_id=floor.bikes[invented.HUNTED],
        complaint="No headlamp, neither main nor dip. It went from one moment to the "
        "next, on the way home.",
        acting_user=floor.front_desk,
        at=floor.calendar.at(3, 17, 15),
        intake=Intake(
            intake_notes="Rode here in daylight. Fuses looked at by the owner.",
            promised_on=floor.calendar.day(-2),
            approved_amount=Decimal(300),
            approved_by_name=invented.HARRIET,
            approved_how="by telephone",
        ),
    )
    move(floor, order.pk, Event.START_WORK, by=floor.technician, when=(2, 9, 0))
    hunt = _begin(
        floor,
        invented.HUNTED,
        "Headlamp dead, main and dip",
        order.pk,
        floor.calendar.at(2, 9, 5),
    )
    hunt.complain()
    _measure(BEFORE_THE_HUNT, hunt)
    hunt.follow(hunt.page().belief.tests[0])
    return hunt.case_id
