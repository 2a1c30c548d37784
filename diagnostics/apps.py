"""The Django app of the bench."""

from importlib import import_module

from django.apps import AppConfig
from typing_extensions import override


class DiagnosticsConfig(AppConfig):
    """Harness library, cases, findings and what they prove."""

    name = "diagnostics"
    default_auto_field = "django.db.models.BigAutoField"

    @override
    def ready(self) -> None:
        """Add the bench to the shop's work orders, reports and navigation."""
        import_module("diagnostics.registration").register_everything()
