from datetime import date

import pytest

from shop.domain.roles import HANDLES_MONEY, Act, Role, may
from shop.domain.second_steps import Demand, SecondStepRule

THE_DAY = date(2026, 3, 2)


@pytest.mark.parametrize("role", list(Role))
def test_only_who_handles_money_is_asked_and_not_before_the_day(role: Role) -> None:
    rule = SecondStepRule(THE_DAY)
    asked = role in HANDLES_MONEY
    before, after = date(2026, 3, 1), date(2026, 3, 3)
    assert rule.demand_of(role, on=before) is (Demand.SOON if asked else Demand.NONE)
    assert rule.demand_of(role, on=THE_DAY) is (Demand.NOW if asked else Demand.NONE)
    assert rule.demand_of(role, on=after) is (Demand.NOW if asked else Demand.NONE)


def test_without_a_day_nobody_is_asked() -> None:
    rule = SecondStepRule(None)
    assert {rule.demand_of(role, on=THE_DAY) for role in Role} == {Demand.NONE}


def test_whoever_records_the_customer_s_yes_handles_money() -> None:
    assert {role for role in Role if may(role, Act.RECORD_APPROVAL)} == HANDLES_MONEY
