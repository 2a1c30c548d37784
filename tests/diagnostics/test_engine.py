"""The engine at the bench begins with what the shop has learned."""

import pytest

import harness
from diagnostics.actions.repairs import RepairEntry, record_repair
from diagnostics.engine import conclusions, experience, loom_of, make_ready
from diagnostics.models import Case
from diagnostics.selectors.cases import case_page
from shop.models import User
from tests.builders import MORNING, UserFactory
from tests.diagnostics.builders import (
    BENCH_TOML,
    a_case_with_complaint,
    a_library_file,
)

pytestmark = pytest.mark.django_db

PLUG, WIRE = "plug:tail-plug.1", "wire:6"


def chance(case: Case, segment: str) -> float:
    """Return how likely a segment of a case's loom is bad before any finding."""
    h = loom_of(case.harness_file.sha256)
    return float(conclusions(h, standing=())[0].segments[segment]["probability"])


def prove(case: Case, person: User, segment: str, mode: str) -> None:
    """Record a repair and let the case stand as proven."""
    record_repair(
        case_id=case.pk,
        entry=RepairEntry(done="Put right.", segments=[segment], mode=mode),
        key="repair",
        acting_user=person,
        at=MORNING,
    )
    Case.objects.filter(pk=case.pk).update(state="proven")


def test_without_proven_repairs_the_bench_begins_where_the_engine_does() -> None:
    h = loom_of(a_library_file().sha256)
    assert experience().repairs == 0
    drawn = conclusions(h, standing=())[0]
    assert drawn.faults == harness.Case(h).faults(limit=len(drawn.faults))


def test_a_proven_repair_makes_its_like_more_likely_in_the_next_hunt() -> None:
    person = UserFactory.create()
    case = a_case_with_complaint(person)
    before = {name: chance(case, name) for name in (PLUG, WIRE)}
    prove(case, person, "plug:tail-plug.3", "resistive")
    assert experience().repairs == 1
    # By hand: the table is worth 40 repairs, this one makes 41. The bad contacts of the
    # three cavities, all alike, have the new repair to share. A segment's chance counts
    # pairs of faults as well, which shifts it by a few in a thousand.
    rates = harness.priors.Priors.of(loom_of(case.harness_file.sha256)).rates
    contact = rates[PLUG, "resistive"]
    part = contact / sum(rate for (name, _), rate in rates.items() if name == PLUG)
    times = 40 / 41 + part * sum(rates.values()) / (3 * contact) / 41
    assert times > 1.2
    assert chance(case, PLUG) == pytest.approx(before[PLUG] * times, rel=5e-3)
    assert chance(case, WIRE) == pytest.approx(before[WIRE] * 40 / 41, rel=5e-3)
    # The fault comes back: the repair taught nothing after all.
    Case.objects.filter(pk=case.pk).update(state="open")
    assert chance(case, PLUG) == pytest.approx(before[PLUG])


def test_the_case_page_counts_the_repairs_that_were_learned_from() -> None:
    person = UserFactory.create()
    case = a_case_with_complaint(person)
    viewer = person.as_viewer()
    assert case_page(case_id=case.pk, viewer=viewer).learned_repairs == 0
    prove(case, person, "wire:5", "open")
    assert case_page(case_id=case.pk, viewer=viewer).learned_repairs == 1


def test_what_the_first_tap_would_wait_for_is_thought_about_ahead_and_once() -> None:
    case = a_case_with_complaint()
    h = harness.loads(BENCH_TOML, name="a loom that this process has not seen")
    page = case_page(case_id=case.pk, viewer=UserFactory.create().as_viewer())
    thread = make_ready(h, page.standing)
    assert thread is not None
    thread.join(timeout=60)
    assert not thread.is_alive()
    assert make_ready(h, page.standing) is None
