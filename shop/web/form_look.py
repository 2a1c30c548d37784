"""How forms are drawn: our own templates for a form and for a field."""

from django.forms.renderers import TemplatesSetting


class FormLook(TemplatesSetting):
    """Draws `{{ form }}` and `{{ field.as_field_group }}` in the shop's look."""

    form_template_name = "shop/forms/form.html"
    field_template_name = "shop/forms/field.html"
