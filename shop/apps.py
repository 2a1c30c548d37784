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
        """Register checks, tasks, searched nouns, and what happens at signing in."""
        import_module("shop.checks")
        import_module("shop.tasks")
        import_module("shop.selectors.search_nouns")
        import_module("shop.selectors.search_floor")
        import_module("shop.selectors.clock_seams")
        import_module("shop.web.seen")
        import_module("shop.web.second_step_gate")
