from datetime import timedelta

import pytest

from shop.domain.paper import (
    CHECKING,
    FILING,
    MAX_CRASHES,
    MAX_ERRORS,
    MOVES,
    PRINTING,
    SETTING,
    STEPS,
    UNDER_WAY,
    PaperEvent,
    PaperState,
    after_crash,
    after_error,
    pause_after,
)


def test_the_steps_are_counted_from_one_to_the_last() -> None:
    stages = (SETTING, PRINTING, CHECKING, FILING)
    assert [stage.step for stage in stages] == list(range(1, STEPS + 1))


def test_every_state_can_be_left_and_reached() -> None:
    assert {old for old, _ in MOVES} == set(PaperState)
    assert set(MOVES.values()) == set(PaperState)


def test_what_is_under_way_comes_to_an_end_by_itself() -> None:
    for state in UNDER_WAY:
        events = {event for old, event in MOVES if old is state}
        assert not events & {PaperEvent.RETRY, PaperEvent.REMAKE}


@pytest.mark.parametrize("errors", range(1, MAX_ERRORS))
def test_an_error_is_forgiven_until_the_last(errors: int) -> None:
    assert after_error(errors) is PaperEvent.PUT_BACK
    assert after_error(MAX_ERRORS) is PaperEvent.PUT_ASIDE


@pytest.mark.parametrize("crashes", range(1, MAX_CRASHES))
def test_a_dead_worker_is_forgiven_more_often_than_an_error(crashes: int) -> None:
    assert MAX_CRASHES > MAX_ERRORS
    assert after_crash(crashes) is PaperEvent.PUT_BACK
    assert after_crash(MAX_CRASHES) is PaperEvent.PUT_ASIDE


def test_each_error_doubles_the_pause() -> None:
    pauses = [pause_after(errors) for errors in range(1, MAX_ERRORS)]
    assert pauses == [timedelta(seconds=2), timedelta(seconds=4)]
