"""The form of a measurement is made from what its kind asks for."""

from django import forms

from diagnostics.refusals import ReadingProblem, ReadingsRefused
from diagnostics.selectors.measurements import KindView, kind_view_named
from diagnostics.web.measurement_form import MeasurementForm
from shop.domain.refusals import Refusal


def kind(name: str) -> KindView:
    return kind_view_named(name, volts=12, earth="negative")


def test_few_choices_are_buttons_and_many_a_list() -> None:
    draw = MeasurementForm(kind=kind("parasitic-draw")).fields["fitted"]
    drop = MeasurementForm(kind=kind("voltage-drop")).fields["stretch"]
    assert isinstance(draw.widget, forms.RadioSelect)
    assert type(drop.widget) is forms.Select


def test_where_open_may_be_written_the_keys_have_letters() -> None:
    fields = MeasurementForm(kind=kind("coil-primary")).fields
    assert "inputmode" not in fields["primary_ohm"].widget.attrs
    assert "“open”" in str(fields["primary_ohm"].help_text)
    assert fields["lead_ohm"].widget.attrs["inputmode"] == "decimal"


def test_each_problem_stands_at_its_reading_and_the_rest_above() -> None:
    entered = {"key": "k", "rest_v": "1", "battery_c": "2", "rested_h": "3"}
    form = MeasurementForm(entered, kind=kind("battery-rest"))
    assert form.is_valid()
    form.show(
        ReadingsRefused(
            (ReadingProblem("rest_v", "Low."), ReadingProblem("kind", "Odd."))
        )
    )
    assert form.errors["rest_v"] == ["Low."]
    assert form.non_field_errors() == ["Odd."]
    form.show(Refusal("case-finished", "Finished.", None))
    assert "Finished." in form.non_field_errors()
