"""What is written on a work order."""

from decimal import Decimal

import pytest

from shop.domain.refusals import Refusal
from shop.domain.work_orders import COMPLAINT, Intake, Particulars, WorkOrderText


def test_the_complaint_stays_in_the_customers_words() -> None:
    assert (
        COMPLAINT.clean(" It just dies,\r\nlike that! ") == "It just dies,\nlike that!"
    )


def test_a_work_order_without_a_complaint_is_refused() -> None:
    with pytest.raises(Refusal) as refused:
        WorkOrderText(complaint=" ").checked()
    assert refused.value.field == "complaint"


@pytest.mark.parametrize("amount", ["-1", "0.001", "NaN", "1E+12"])
def test_an_agreed_amount_must_be_money(amount: str) -> None:
    for noted in (
        Intake(approved_amount=Decimal(amount)),
        Particulars(approved_amount=Decimal(amount)),
    ):
        with pytest.raises(Refusal) as refused:
            noted.checked(minor_digits=2)
        assert refused.value.field == "approved_amount"


def test_an_estimate_must_be_money() -> None:
    with pytest.raises(Refusal) as refused:
        Particulars(estimate_amount=Decimal("80.005")).checked(minor_digits=2)
    assert refused.value.field == "estimate_amount"


def test_particulars_are_tidied() -> None:
    assert Particulars(reason=" parts late ").checked(minor_digits=2).reason == (
        "parts late"
    )
