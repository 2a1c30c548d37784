"""The Django app of the workshop's service."""

from importlib import import_module

from django.apps import AppConfig
from typing_extensions import override


class ShopConfig(AppConfig):
    """Bikes, work orders, labour, parts and paper."""

    name = "shop"
    default_auto_field = "django.db.models.BigAutoField"

    @override
    def ready(self) -> None:
        """Register the system checks, the tasks, and what the search box looks through."""
        import_module("shop.checks")
        import_module("shop.tasks")
        import_module("shop.selectors.search_nouns")
