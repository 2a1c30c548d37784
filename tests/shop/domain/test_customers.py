"""What can be entered about a customer."""

import pytest

from shop.domain.customers import CustomerDetails, check_email
from shop.domain.refusals import Refusal


def test_a_name_alone_is_enough() -> None:
    assert CustomerDetails(name=" Ada Fenn ").checked().name == "Ada Fenn"


def test_a_customer_without_a_name_is_refused() -> None:
    with pytest.raises(Refusal) as refused:
        CustomerDetails(name=" ").checked()
    assert refused.value.field == "name"


@pytest.mark.parametrize("email", ["ada", "@example.org", "ada@", "a b@c.d", "a@b"])
def test_what_cannot_be_a_mail_address_is_refused(email: str) -> None:
    with pytest.raises(Refusal) as refused:
        check_email(email)
    assert refused.value.code == "email-malformed"


def test_a_mail_address_is_taken() -> None:
    details = CustomerDetails(name="Ada", email="ada.fenn@example.org").checked()
    assert details.email == "ada.fenn@example.org"
