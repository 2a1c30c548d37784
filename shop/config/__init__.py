"""The composition root: settings, URLs, Celery, and the server entry points."""

from shop.config.celery import app as celery_app

__all__ = ["celery_app"]
