"""What can be set about the shop itself."""

from dataclasses import dataclass, replace
from decimal import Decimal

from shop.domain.clocks import MOST_MINIMUM_MINUTES, STEPS, TimeRounding
from shop.domain.customers import check_email
from shop.domain.entries import TextRule, clean_member, clean_money, tidied
from shop.domain.money import MAX_MINOR_DIGITS
from shop.domain.pricing import TaxRounding
from shop.domain.refusals import Refusal

CURRENCY_LETTERS = 3
LONGEST_CLOCK_HOURS = 24

_RULES = (
    TextRule("name", "The shop's name", 120, required=True),
    TextRule("address", "The address", 500),
    TextRule("phone", "The phone number", 40),
    TextRule("email", "The mail address", 254),
    TextRule("tax_number", "The tax number", 40),
    TextRule("currency", "The currency", CURRENCY_LETTERS, required=True),
    TextRule("time_zone", "The time zone", 60, required=True),
    TextRule("invoice_notes", "The note on papers", 5000),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopDetails:
    """What can be set about the shop.

    Parameters
    ----------
    minor_digits : int
        Decimal places of the currency (ISO 4217), 0 to 4.
    hourly_rate : Decimal
        What an hour costs where a person has no rate of their own.
    time_rounding, time_step_minutes, time_minimum_minutes
        How worked time becomes booked minutes.
    clock_limit_hours : int
        A clock that runs longer counts as forgotten.
    """

    name: str
    address: str = ""
    phone: str = ""
    email: str = ""
    tax_number: str = ""
    currency: str = "EUR"
    minor_digits: int = 2
    tax_rounding: str = TaxRounding.PER_RATE
    default_tax_rate_id: int | None = None
    hourly_rate: Decimal = Decimal(0)
    time_zone: str = "UTC"
    invoice_notes: str = ""
    time_rounding: str = TimeRounding.NONE
    time_step_minutes: int = 6
    time_minimum_minutes: int = 0
    clock_limit_hours: int = 10

    def checked(self) -> "ShopDetails":
        """Return the settings tidied, or refuse them."""
        tidy = tidied(self, _RULES)
        letters = tidy.currency.upper()
        if not (
            letters.isascii() and letters.isalpha() and len(letters) == CURRENCY_LETTERS
        ):
            raise Refusal(
                "currency-malformed",
                "A currency has three letters (ISO 4217), for example EUR.",
                "currency",
            )
        if not 0 <= tidy.minor_digits <= MAX_MINOR_DIGITS:
            raise Refusal(
                "minor-digits-out-of-range",
                f"A currency has 0 to {MAX_MINOR_DIGITS} decimal places.",
                "minor_digits",
            )
        _check_time(tidy)
        if tidy.email:
            check_email(tidy.email)
        return replace(
            tidy,
            currency=letters,
            tax_rounding=clean_member(
                TaxRounding,
                tidy.tax_rounding,
                field="tax_rounding",
                name="The rounding of tax",
            ).value,
            time_rounding=clean_member(
                TimeRounding,
                tidy.time_rounding,
                field="time_rounding",
                name="The rounding of time",
            ).value,
            hourly_rate=clean_money(
                tidy.hourly_rate,
                field="hourly_rate",
                name="The hourly rate",
                minor_digits=tidy.minor_digits,
            ),
        )


def _check_time(details: ShopDetails) -> None:
    if details.time_step_minutes not in STEPS:
        steps = ", ".join(str(step) for step in STEPS)
        raise Refusal(
            "time-step-unknown",
            f"Time is rounded in steps of {steps} minutes; choose one of these.",
            "time_step_minutes",
        )
    if not 0 <= details.time_minimum_minutes <= MOST_MINIMUM_MINUTES:
        raise Refusal(
            "time-minimum-out-of-range",
            f"The least that is booked is between 0 and {MOST_MINIMUM_MINUTES} "
            "minutes.",
            "time_minimum_minutes",
        )
    if not 1 <= details.clock_limit_hours <= LONGEST_CLOCK_HOURS:
        raise Refusal(
            "clock-limit-out-of-range",
            f"A clock is forgotten after 1 to {LONGEST_CLOCK_HOURS} hours.",
            "clock_limit_hours",
        )
