from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from hypothesis import given
from hypothesis import strategies as st

from shop.domain.refusals import ConcurrentChange, NotAllowed, NotFound, Refusal
from shop.web.forms import FigureField, MinutesField, PickField, ShopForm, text_field


class PlainForm(ShopForm):
    name = text_field("Name", longest=20)


@pytest.mark.parametrize(
    ("typed", "minutes"),
    [
        ("90", 90),
        ("90 min", 90),
        ("90m", 90),
        ("1:30", 90),
        ("0:05", 5),
        ("1.5 h", 90),
        ("1,5h", 90),
        ("1 h 30 min", 90),
        ("1h30", 90),
        ("2 H", 120),
    ],
)
def test_time_is_taken_as_people_say_it(typed: str, minutes: int) -> None:
    assert MinutesField().clean(typed) == minutes


@pytest.mark.parametrize("typed", ["soon", "1:75", "-5", "1.5", "1h99x", "½ h", "1e3"])
def test_what_is_no_time_is_refused(typed: str) -> None:
    with pytest.raises(ValidationError, match="Write the time in minutes"):
        MinutesField().clean(typed)


@given(st.integers(min_value=0, max_value=99), st.integers(min_value=0, max_value=59))
def test_hours_and_minutes_add_up(hours: int, minutes: int) -> None:
    assert MinutesField().clean(f"{hours}:{minutes:02}") == hours * 60 + minutes


@given(st.text(max_size=12))
def test_no_text_breaks_the_field(typed: str) -> None:
    try:
        found = MinutesField(required=False).clean(typed)
    except ValidationError:
        return
    assert found is None or found >= 0


@pytest.mark.parametrize("typed", ["1250.5", "1250,5", "1 250,5", "1\u00a0250.50"])
def test_a_figure_takes_comma_and_point(typed: str) -> None:
    assert FigureField().clean(typed) == Decimal("1250.5")


@pytest.mark.parametrize("typed", ["1,250.50", "ten", "1.2.3", "NaN", "Infinity", ""])
def test_a_figure_that_is_none_is_refused(typed: str) -> None:
    with pytest.raises(ValidationError):
        FigureField().clean(typed)


def test_a_stored_figure_is_shown_without_its_column_s_zeros() -> None:
    field = FigureField()
    assert field.prepare_value(Decimal("48.5000")) == "48.50"
    assert field.prepare_value(Decimal("0.8515")) == "0.8515"
    assert field.prepare_value("12,x") == "12,x"


def test_a_pick_is_a_row_s_number_or_nothing() -> None:
    field = PickField(rows=[(7, "Ada")], empty="nobody", required=False)
    assert field.clean("7") == 7
    assert field.clean("") is None
    with pytest.raises(ValidationError, match="Choose one of those on the list"):
        field.clean("8")


def refuse(refusal: Refusal) -> None:
    raise refusal


def test_a_refusal_stands_at_its_field_or_above_all() -> None:
    form = PlainForm({"name": "Ada"})
    assert form.is_valid()
    assert form.carry_out(refuse, Refusal("taken", "It is taken.", "name")) is None
    assert form.carry_out(refuse, ConcurrentChange("late", "Too late.", "x")) is None
    assert form.errors == {"name": ["It is taken."], "__all__": ["Too late."]}


def test_what_the_form_cannot_mend_goes_on_up() -> None:
    form = PlainForm({"name": "Ada"})
    assert form.is_valid()
    with pytest.raises(NotAllowed):
        form.carry_out(refuse, NotAllowed("no", "Not for you."))
    with pytest.raises(NotFound):
        form.carry_out(refuse, NotFound("gone", "Gone.", "bike_id"))
    form.carry_out(refuse, NotFound("gone", "Gone.", "name"))
    assert form.errors["name"] == ["Gone."]
