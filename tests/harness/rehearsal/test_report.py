"""What a rider reports, whatever is wrong."""

from functools import cache

from harness.consumers import consumers, ordinary_rigs
from harness.faults import Fault
from harness.findings import EYE_READS
from harness.rehearsal.report import AT_A_TIME, Reports, report_tests, reported
from harness.sets import FaultSet
from harness.weighing import sets_for
from tests.harness.small_looms import brown_out, horn_and_tail

OPEN_RETURN = (Fault("wire:5", "open"),)
DEAD_TAIL = (Fault("device:rear-lamp.tail", "dead"),)


def words_of(*bikes: FaultSet) -> list[list[str]]:
    reports = Reports.of(sets_for(horn_and_tail()), bikes)
    return [[EYE_READS[w] for w in column] for column in reports.words.T.tolist()]


@cache
def looks() -> list[tuple[str, str]]:
    """Return the consumer and the switches held, of each look of the report."""
    tests = report_tests(horn_and_tail())
    return [(t.device, " ".join(switch for switch, _ in t.rig.moved)) for t in tests]


def test_every_consumer_is_looked_at_in_every_ordinary_rig() -> None:
    h = horn_and_tail()
    tests = report_tests(h)
    devices = {c.device for c in consumers(h)}
    assert {t.tool for t in tests} == {"eye"}
    assert len(set(tests)) == len(tests) == len(devices) * len(ordinary_rigs(h))


def test_an_open_return_kills_the_horn_and_nothing_else() -> None:
    sound, bad = words_of((), OPEN_RETURN)
    changed = {look for look, a, b in zip(looks(), sound, bad, strict=True) if a != b}
    assert {device for device, _ in changed} == {"horn"}
    assert {"horn-button" in rig for _, rig in changed} == {True}


def test_two_faults_are_reported_together() -> None:
    sound, horn, tail, both = words_of(
        (), OPEN_RETURN, DEAD_TAIL, tuple(sorted(OPEN_RETURN + DEAD_TAIL))
    )
    for a, b, c, d in zip(sound, horn, tail, both, strict=True):
        assert d == (b if b != a else c), "each shows as if it were alone"


def test_a_report_is_put_into_findings_look_by_look() -> None:
    h = horn_and_tail()
    reports = Reports.of(sets_for(h), [OPEN_RETURN])
    findings = reported(h, reports.words[:, 0])
    assert [f.test for f in findings] == list(report_tests(h))
    assert [f.reads for f in findings] == words_of(OPEN_RETURN)[0]
    assert len({f.id for f in findings}) == len(findings)


def test_many_bikes_are_solved_a_part_at_a_time() -> None:
    many = [(), OPEN_RETURN] * AT_A_TIME
    reports = Reports.of(sets_for(horn_and_tail()), many[: AT_A_TIME + 3])
    assert reports.words.shape == (len(looks()), AT_A_TIME + 3)
    assert (reports.words[:, 0] == reports.words[:, AT_A_TIME]).all()
    assert Reports.of(sets_for(horn_and_tail()), []).words.shape[1] == 0


def test_a_bike_that_chatters_comes_to_no_rest() -> None:
    # Behind 30 ohm the relay's own load takes the volts that pull it in; behind 3 ohm
    # enough is left to hold it.
    bikes = [(), *((Fault("plug:plug.1", "resistive", r),) for r in (3.0, 30.0))]
    reports = Reports.of(sets_for(brown_out()), bikes)
    assert reports.steady.tolist() == [True, True, False]
