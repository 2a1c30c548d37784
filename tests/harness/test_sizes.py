"""Bad contacts of sizes between those that every hunt begins with."""

from functools import cache

import numpy as np
import pytest

from harness.faults import BAD_CONTACT_OHM, Fault
from harness.findings import Finding, finding_from
from harness.model import Harness
from harness.predictions import predictions_for
from harness.priors import log_priors
from harness.rehearsal import answer
from harness.sizes import LARGEST_OHM, MOST_PROPOSED, SMALLEST_OHM, Sizes
from harness.weighing import Weighing, sets_for
from tests.harness.small_looms import BRAKE, HORN, ON, horn_and_tail

BUTTON, RETURN = "switch:horn-button.PRESSED.1-2", "wire:5"
TESTS: tuple[dict[str, object], ...] = (
    {"rig": HORN, "tool": "eye", "device": "horn"},
    {"rig": ON, "tool": "eye", "device": "rear-lamp.tail"},
    {"rig": BRAKE, "tool": "eye", "device": "rear-lamp.stop"},
    {
        "rig": HORN,
        "tool": "voltmeter",
        "probe": "horn-button.1",
        "clip": "horn-button.2",
    },
    {"rig": HORN, "tool": "voltmeter", "probe": "horn.2"},
    {"rig": HORN, "tool": "ammeter", "wire": "4"},
)


@cache
def bike() -> Harness:
    return horn_and_tail()


def taken(fault: Fault, *tests: dict[str, object]) -> list[Finding]:
    """Return what tests read on a bike with a fault."""
    out = []
    for number, test in enumerate(tests or TESTS):
        blank = {"eye": "dead", "voltmeter": 0.0, "ammeter": 0.0}[str(test["tool"])]
        asked = finding_from(bike(), test | {"reads": blank}, id_="x").test
        shown = float(sets_for(bike()).shown([asked], [(fault,)])[0, 0])
        out.append(answer(bike(), asked, shown, id_=f"f{number}"))
    return out


def sizes_after(findings: list[Finding]) -> tuple[Sizes, float]:
    """Return the sizes and the log weight of the best explanation."""
    known = predictions_for(bike())
    sizes, total = Sizes(known), log_priors(bike()).copy()
    for finding in findings:
        logs = known.log_likelihood(finding)
        sizes.add(bike(), finding, logs)
        total += logs
    return sizes, float(total.max())


def proposed(findings: list[Finding]) -> dict[str, float]:
    sizes, best = sizes_after(findings)
    return {f.segment: f.ohms for f, _ in sizes.proposed(log_priors(bike()), best)}


@pytest.mark.parametrize("ohms", [0.6, 1.0, 2.0, 10.0, 60.0])
@pytest.mark.parametrize("segment", [BUTTON, RETURN])
def test_the_size_that_the_meters_speak_for_is_proposed(
    segment: str, ohms: float
) -> None:
    found = proposed(taken(Fault(segment, "resistive", ohms)))
    assert found[segment] == pytest.approx(ohms, rel=0.15)


@pytest.mark.parametrize("ohms", BAD_CONTACT_OHM)
def test_where_one_of_the_usual_sizes_fits_no_other_is_proposed(ohms: float) -> None:
    assert RETURN not in proposed(taken(Fault(RETURN, "resistive", ohms)))


def test_before_any_finding_there_is_nothing_to_propose() -> None:
    assert proposed([]) == {}


def test_words_alone_do_not_settle_on_one_contact() -> None:
    weighed = Weighing(bike())
    for finding in taken(Fault(RETURN, "resistive", 1.5), *TESTS[:3]):
        weighed.add(finding)
    belief = weighed.belief()
    assert belief.by_segment()[RETURN] < 0.5, "the horn's whole way is suspect"


def test_sizes_stay_within_what_a_contact_can_be() -> None:
    sizes, _ = sizes_after([])
    assert sizes.ohm[0] == pytest.approx(SMALLEST_OHM)
    assert sizes.ohm[-1] == pytest.approx(LARGEST_OHM)
    assert (np.diff(np.log(sizes.ohm)) > 0).all()
    assert all(SMALLEST_OHM < ohm < LARGEST_OHM for ohm in BAD_CONTACT_OHM)


def test_no_more_than_a_few_are_proposed_each_of_them_once() -> None:
    sizes, best = sizes_after(taken(Fault(RETURN, "resistive", 1.0), *TESTS[:1]))
    found = sizes.proposed(log_priors(bike()), best)
    segments = [fault.segment for fault, _ in found]
    assert len(set(segments)) == len(segments) <= MOST_PROPOSED
    assert all(fault.mode == "resistive" for fault, _ in found)


def test_each_has_the_prior_of_a_usual_size_of_the_same_contact() -> None:
    sizes, best = sizes_after(taken(Fault(RETURN, "resistive", 1.0)))
    rows = predictions_for(bike()).faults
    prior = log_priors(bike())
    for fault, own in sizes.proposed(prior, best):
        usual = [
            prior[rows.index(Fault(fault.segment, "resistive", r))]
            for r in BAD_CONTACT_OHM
        ]
        assert own == pytest.approx(max(usual))


def test_what_a_size_between_shows_is_near_what_it_would_show_solved() -> None:
    # The law of one resistance in series: what is proposed is solved afterwards.
    known, sizes = predictions_for(bike()), Sizes(predictions_for(bike()))
    finding = taken(Fault(RETURN, "resistive", 1.0), TESTS[4])[0]
    sizes.add(bike(), finding, known.log_likelihood(finding))
    place = sizes.contacts.segments.index(RETURN)
    peak = float(sizes.ohm[sizes.total[place].argmax()])
    assert peak == pytest.approx(1.0, rel=0.1)


def test_the_hunt_ends_on_the_contact_with_its_size() -> None:
    weighing = Weighing(bike())
    for finding in taken(Fault(BUTTON, "resistive", 1.0)):
        weighing.add(finding)
    way, probability, faults = weighing.belief().explanations()[0]
    assert way == ((BUTTON, "resistive", ""),)
    assert probability > 0.9
    assert faults[0].ohms == pytest.approx(1.0, rel=0.15)


def test_a_copy_goes_on_by_itself() -> None:
    findings = taken(Fault(RETURN, "resistive", 1.0))
    sizes, _ = sizes_after(findings[:2])
    other = sizes.copy()
    for finding in findings[2:]:
        other.add(bike(), finding, predictions_for(bike()).log_likelihood(finding))
    plain, _ = sizes_after(findings[:2])
    assert sizes.total == pytest.approx(plain.total)
    assert other.total == pytest.approx(sizes_after(findings)[0].total)
