"""The Django app of the bench."""

from django.apps import AppConfig


class DiagnosticsConfig(AppConfig):
    """Harness library, cases, findings and what they prove."""

    name = "diagnostics"
    default_auto_field = "django.db.models.BigAutoField"
