"""One hunt played through: the engine advises, the bike answers."""

from functools import cache

import numpy as np
import pytest

from harness.faults import Fault
from harness.rehearsal.answers import AsLikely, Slips
from harness.rehearsal.play import MOST_TESTS, Bike, Hunts, Played
from harness.rehearsal.report import report_tests
from harness.sets import FaultSet
from tests.harness.library import WREN, loom
from tests.harness.small_looms import brown_out, horn_and_tail

OPEN_RETURN = (Fault("wire:5", "open"),)
BAD_BUTTON = (Fault("switch:horn-button.PRESSED.1-2", "resistive", 3.0),)
BLOWN = (Fault("fuse:main-fuse", "blown"),)
TWO = (Fault("wire:10", "open"), Fault("wire:5", "open"))


@cache
def hunts() -> Hunts:
    return Hunts(horn_and_tail())


@cache
def played(faults: FaultSet) -> Played:
    found = hunts().play(faults)
    assert found is not None
    return found


@pytest.mark.parametrize("faults", [OPEN_RETURN, BAD_BUTTON, BLOWN])
def test_a_single_fault_is_isolated_in_few_tests(faults: FaultSet) -> None:
    hunt = played(faults)
    assert hunt.faults == faults
    assert hunt.isolated
    assert hunt.rank == 1
    assert 1 <= hunt.tests <= 8
    assert not hunt.misled
    assert hunt.wrong == hunt.doubted == ()


def test_two_faults_stand_among_the_first_three_explanations() -> None:
    assert 1 <= played(TWO).rank <= 3


def test_every_step_states_a_probability_and_whether_it_was_they() -> None:
    hunt = played(OPEN_RETURN)
    assert len(hunt.stated) == hunt.tests + 1, "after the report and after each test"
    assert all(0.0 <= p <= 1.0 for p, _ in hunt.stated)
    probability, true = hunt.stated[-1]
    assert true
    assert probability >= 0.95


def test_minutes_are_those_of_the_tests_made() -> None:
    hunt = played(OPEN_RETURN)
    assert hunt.tests * 1.5 <= hunt.minutes <= hunt.tests * 12
    assert 0.0 < hunt.entropy_bits < 8.0


def test_bikes_played_together_end_as_each_by_itself() -> None:
    sets = [OPEN_RETURN, BAD_BUTTON, BLOWN, TWO, OPEN_RETURN]
    bikes = [Bike(k, s, np.random.default_rng(k)) for k, s in enumerate(sets)]
    together = {bike.number: p for bike, p in hunts().play_all(bikes)}
    assert [together[k] for k in range(5)] == [played(s) for s in sets]


def test_a_bike_that_comes_to_no_rest_is_left_out() -> None:
    chatters = (Fault("plug:plug.1", "resistive", 30.0),)
    assert Hunts(brown_out()).play(chatters) is None


def test_a_sound_bike_has_nothing_to_be_isolated() -> None:
    hunt = played(())
    assert not hunt.isolated
    assert hunt.tests <= MOST_TESTS


def test_slips_are_told_and_the_same_seed_slips_alike() -> None:
    def one(seed: int) -> Played | None:
        often = Hunts(loom(WREN), instruments=Slips(0.5))
        return often.play((Fault("wire:6", "open"),), np.random.default_rng(seed))

    found = [one(seed) for seed in (1, 2)]
    assert found == [one(seed) for seed in (1, 2)]
    assert any(hunt is not None and hunt.wrong for hunt in found)
    for hunt in found:
        if hunt is not None:
            names = {f"f{k}" for k in range(1, hunt.tests + 1)}
            assert set(hunt.wrong) <= names, "the rider's report is not wrong"
            assert not hunt.misled or hunt.wrong


def test_with_readings_as_likely_as_stated_the_rider_errs_as_well() -> None:
    often = Hunts(loom(WREN), instruments=AsLikely())
    faults = (Fault("wire:6", "open"),)
    bikes = [Bike(k, faults, np.random.default_rng(k)) for k in range(150)]
    found = [hunt for _, hunt in often.play_all(bikes)]
    assert len(found) == 150
    # A look errs four times in a thousand; six looks and 150 bikes: three or four.
    assert len(report_tests(loom(WREN))) == 6
    bits = {round(hunt.entropy_bits, 9) for hunt in found if hunt is not None}
    right = [hunt.isolated for hunt in found if hunt is not None]
    assert len(bits) > 1, "some riders reported something else"
    assert sum(right) >= 140
