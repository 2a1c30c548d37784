"""The Django app of the workshop's service."""

from django.apps import AppConfig


class ShopConfig(AppConfig):
    """Bikes, work orders, labour, parts and paper."""

    name = "shop"
    default_auto_field = "django.db.models.BigAutoField"
